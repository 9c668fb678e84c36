// Reads a line of the host: strict, with fixed lengths. docs/protocol.md is what it holds to.
#pragma once
#include "outputs.h"
#include <stdint.h>

/** A line of more characters is discarded. */
#define LONGEST_LINE 200

enum frame_kind { FRAME_BAD_CHECK, FRAME_BAD_FORM, FRAME_ASKED, FRAME_HELLO, FRAME_ARM, FRAME_SET };

struct frame {
    enum frame_kind kind;
    uint8_t version; // of HELLO
    uint16_t session; // of ARM and SET, as what follows
    uint32_t number;
    uint16_t word;
    struct countdowns countdowns;
};

/** Reads the `length` characters of a line that is not empty. Fields that its kind has not mean nothing. */
void frame_read(const uint8_t *line, uint8_t length, struct frame *frame);
