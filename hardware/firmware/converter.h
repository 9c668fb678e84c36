// The 16-bit converter on the SPI bus, of the ADS1118 kind: four inputs against ground.
#pragma once
#include <stdbool.h>
#include <stdint.h>

#define CONVERTER_INPUTS 4

/** Once a tick; every few ticks it fetches a conversion and starts the next. */
void converter_step(void);
/** The last conversion of an input, 187.5 uV a count; false where it does not answer. */
bool converter_value(uint8_t input, int16_t *value);
