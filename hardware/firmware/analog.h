// The chip's own analog inputs, ten bits each.
#pragma once
#include <stdbool.h>
#include <stdint.h>

#define ANALOG_INPUTS 5
#define ANALOG_TRANSDUCERS 3 // the first ones; the others are thermistors
/** Conversions in a sum. */
#define ANALOG_SUMMED 10

enum analog_band { BAND_BELOW, BAND_INSIDE, BAND_ABOVE };

void analog_begin(void);
/** Once a tick: fetches one conversion and starts the next. */
void analog_step(void);
/** Sum of the last ten conversions of an input that belong together. */
uint16_t analog_sum(uint8_t input);
enum analog_band analog_band(uint8_t input, uint16_t sum);
/** Whether every input has had its ten. */
bool analog_ready(void);
