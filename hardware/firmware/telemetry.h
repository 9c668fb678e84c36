// The board's own lines: when each is due, and what it says.
#pragma once

/** The line that says why the board has started. */
void telemetry_begin(void);
/** BOARD, SEEN and LOST shall be sent. */
void telemetry_answer(void);
/** BOARD shall be sent. */
void telemetry_identify(void);
/** Sends at most one line that is due. */
void telemetry_step(void);
