// Two 74HC595 in a row: shifting a word out, reading it back, and the enable pin that drops every output at once.
#pragma once
#include "pins.h"
#include <stdbool.h>
#include <stdint.h>

/** So many ticks running without a word that reads back are a fault of the chain. */
#define CHAIN_FAULTS_TRIP 5

void chain_begin(void);
/** Once a tick: shifts the twelve outputs out, reads them back and takes them over only if they came back right. */
void chain_step(uint16_t outputs);
/** Ticks running in which the word did not read back; never 0 before the first that did. */
uint8_t chain_faults(void);
/** What the registers really hold, bits 0 to 11; 0 while they are disabled. */
uint16_t chain_word(void);

static inline void chain_enable(void) { PORTB &= ~_BV(OUTPUTS_DISABLE); }
static inline void chain_disable(void) { PORTB |= _BV(OUTPUTS_DISABLE); }
