// The millisecond that does everything which must not wait for the main loop.
#include "tick.h"
#include "analog.h"
#include "converter.h"
#include "guard.h"
#include "outputs.h"
#include "watchdog.h"
#include <avr/interrupt.h>
#include <util/atomic.h>

static uint32_t now_ms;

// Timer 2 counts 250 steps of 16 MHz / 64.
void tick_begin(void) {
    TCCR2A = _BV(WGM21);
    OCR2A = 249;
    TIMSK2 = _BV(OCIE2A);
    TCCR2B = _BV(CS22);
}

// Takes up to 110 us, and the receiver holds no more than two bytes of 40 us: so the UART may interrupt it, and only
// the UART. Its own interrupt is off meanwhile, so that a tick which hangs is not begun again on top of itself.
ISR(TIMER2_COMPA_vect) {
    TIMSK2 = 0;
    sei();
    guard_step();
    outputs_step(guard_armed());
    guard_chain_step();
    analog_step();
    converter_step();
    now_ms++;
    watchdog_alive(ALIVE_TICK);
    cli();
    TIMSK2 = _BV(OCIE2A);
}

uint32_t tick_ms(void) {
    uint32_t ms;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { ms = now_ms; }
    return ms;
}
