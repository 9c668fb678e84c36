// What the outputs shall be, and the countdowns that end them.
#include "outputs.h"
#include "chain.h"
#include "pins.h"
#include <util/atomic.h>

static uint16_t commanded;
static uint16_t running; // has a countdown
static uint16_t spent;   // its countdown has run out: off until commanded off
static __uint24 left_ms[OUTPUT_COUNT];

void outputs_command(uint16_t word, const struct countdowns *countdowns) {
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
        commanded = word;
        running &= word;
        spent &= word;
        uint16_t given = countdowns->given & ~spent;
        for (uint8_t bit = 0; given; bit++, given >>= 1) {
            if (!(given & 1))
                continue;
            uint16_t mask = 1u << bit;
            if (!(running & mask) || countdowns->ms[bit] < left_ms[bit])
                left_ms[bit] = countdowns->ms[bit];
            running |= mask;
        }
    }
}

void outputs_drop(void) {
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
        chain_disable();
        PORTC &= ~_BV(FAN_STOP);
        commanded = running = spent = 0;
    }
}

// An output goes on in the tick that first sees its countdown and off so many ticks later.
static void count_down(void) {
    uint16_t rest = running;
    for (uint8_t bit = 0; rest; bit++, rest >>= 1) {
        if (!(rest & 1))
            continue;
        if (left_ms[bit]) {
            left_ms[bit]--;
        } else {
            running &= ~(1u << bit);
            spent |= 1u << bit;
        }
    }
}

void outputs_step(bool armed) {
    if (running)
        count_down();
    uint16_t word = armed ? commanded & ~spent : 0;
    chain_step(word);
    if (armed && chain_faults() == 0)
        chain_enable();
    if (word & OUTPUT_FAN_STOP)
        PORTC |= _BV(FAN_STOP);
    else
        PORTC &= ~_BV(FAN_STOP);
}

uint16_t outputs_word(void) {
    uint16_t word;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) {
        word = chain_word();
        if (PINC & _BV(FAN_STOP))
            word |= OUTPUT_FAN_STOP;
    }
    return word;
}
