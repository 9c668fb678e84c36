// Two 74HC595 in a row. Bit 0 of the word is output QA of the register next to the chip.
#include "chain.h"
#include "spi.h"

#define OUTPUTS_MASK 0x0fff
// The four outputs that nothing hangs on carry a pattern that changes every tick, so that a line stuck at either level
// is found even while every output is off.
#define PATTERN_EVEN 0x5000
#define PATTERN_ODD 0xa000

static uint8_t faults;
static uint16_t pattern;
static volatile uint16_t taken;

void chain_begin(void) {
    spi_begin();
    faults = CHAIN_FAULTS_TRIP;
    pattern = PATTERN_EVEN;
}

static uint16_t shift(uint16_t word) {
    uint8_t high = spi_swap(word >> 8);
    return ((uint16_t)high << 8) | spi_swap(word & 0xff);
}

void chain_step(uint16_t outputs) {
    pattern = pattern == PATTERN_EVEN ? PATTERN_ODD : PATTERN_EVEN;
    uint16_t word = (outputs & OUTPUTS_MASK) | pattern;
    shift(word);
    if (shift(word) != word) {
        if (faults < UINT8_MAX)
            faults++;
        return;
    }
    PORTB |= _BV(REGISTER_LATCH);
    PORTB &= ~_BV(REGISTER_LATCH);
    taken = word & OUTPUTS_MASK;
    faults = 0;
}

uint8_t chain_faults(void) { return faults; }

uint16_t chain_word(void) { return PINB & _BV(OUTPUTS_DISABLE) ? 0 : taken; }
