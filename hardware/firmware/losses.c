// Every way in which a line gets lost, counted by itself.
#include "losses.h"
#include <util/atomic.h>

static uint16_t counts[LOSS_COUNT];

void losses_count(enum loss loss) {
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { counts[loss]++; }
}

uint16_t losses_of(enum loss loss) {
    uint16_t count;
    ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { count = counts[loss]; }
    return count;
}
