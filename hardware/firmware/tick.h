// The millisecond that does everything which must not wait for the main loop.
#pragma once
#include <stdbool.h>
#include <stdint.h>

void tick_begin(void);
/** Milliseconds since the start, in 32 bits. */
uint32_t tick_ms(void);
