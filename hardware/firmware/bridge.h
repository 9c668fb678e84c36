// The load cell's bridge converter, of the HX711 kind.
#pragma once
#include <stdbool.h>
#include <stdint.h>

/** Reads it if a conversion waits. */
void bridge_step(void);
/** Counts and age of the last reading; false where there was none yet, or none lately. */
bool bridge_reading(int32_t *counts, uint16_t *age_ms);
