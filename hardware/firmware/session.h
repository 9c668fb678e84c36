// Who may command: the session and its rising numbers, and what becomes of each line of the host.
#pragma once
#include "frame.h"
#include <stdint.h>

#define PROTOCOL_VERSION 1

/** Obeys a line, or counts why not. */
void session_obey(const struct frame *frame);
/** The running session; 0 is none. */
uint16_t session_number(void);
/** Number of the last line that was obeyed in it. */
uint32_t session_obeyed(void);
