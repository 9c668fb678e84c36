// The load cell's bridge converter, of the HX711 kind (Avia Semiconductor, data sheet "24-Bit Analog-to-Digital
// Converter for Weigh Scales"). What is used of that data sheet is from memory and to be checked against it: data low
// when a conversion waits; a bit, highest first, after each rising clock; a 25th pulse chooses channel A at gain 128 and
// takes data high again; a clock high for 60 us switches the part off; at least 0.2 us high and low.
#include "bridge.h"
#include "pins.h"
#include "tick.h"
#include <util/atomic.h>
#include <util/delay.h>

#define BITS 24
#define SIGN 0x800000
#define OLDEST_MS 0xffff

static bool any;
static int32_t last;
static uint32_t read_at_ms;

// No interrupt while the clock is high: the tick takes nearly as long as what would switch the part off.
static bool pulse(void) {
    bool bit;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
        PORTD |= _BV(BRIDGE_CLOCK);
        _delay_us(1);
        bit = PIND & _BV(BRIDGE_DATA);
        PORTD &= ~_BV(BRIDGE_CLOCK);
    }
    return bit;
}

void bridge_step(void) {
    if (PIND & _BV(BRIDGE_DATA))
        return;
    uint32_t counts = 0;
    for (uint8_t at = 0; at < BITS; at++)
        counts = counts << 1 | pulse();
    // Data that stays low is a wire to ground, not a bridge.
    if (!pulse())
        return;
    last = counts & SIGN ? (int32_t)(counts | 0xff000000) : (int32_t)counts;
    read_at_ms = tick_ms();
    any = true;
}

bool bridge_reading(int32_t *counts, uint16_t *age_ms) {
    uint32_t age = tick_ms() - read_at_ms;
    // Forgotten, because after 49 days its age would be nothing again.
    if (age > OLDEST_MS)
        any = false;
    *counts = last;
    *age_ms = age;
    return any;
}
