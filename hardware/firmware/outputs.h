// What the outputs shall be, and the countdowns that end them.
#pragma once
#include <stdbool.h>
#include <stdint.h>

#define OUTPUT_COUNT 13
#define OUTPUT_BITS_UNUSED 0xe000
#define OUTPUT_FAN_STOP 0x1000

/** A countdown for each output of `given`; the others of `ms` mean nothing. */
struct countdowns {
    uint16_t given;
    __uint24 ms[OUTPUT_COUNT];
};

/** A new word and its countdowns. Running countdowns are shortened, never extended. */
void outputs_command(uint16_t word, const struct countdowns *countdowns);
/** Everything off, now: the enable pin, the fan relay, the word and its countdowns. Safe in and out of interrupts. */
void outputs_drop(void);
/**
 * Once a tick: counts down and drives; nothing unless the board is armed. The registers are enabled only once they hold
 * a word that was read back.
 */
void outputs_step(bool armed);
/** The word that the outputs really have. */
uint16_t outputs_word(void);
