// Every way in which a line gets lost, counted by itself. Counters wrap; the host takes differences.
#pragma once
#include <stdint.h>

// In the order of a LOST line.
enum loss {
    LOSS_OVERRUN,
    LOSS_FRAMING,
    LOSS_OVERFLOW,
    LOSS_LONG,
    LOSS_CRC,
    LOSS_FORM,
    LOSS_SESSION,
    LOSS_REPLAY,
    LOSS_REFUSED,
    LOSS_UNSENT,
    LOSS_COUNT
};

/** Safe in and out of interrupts. */
void losses_count(enum loss loss);
uint16_t losses_of(enum loss loss);
