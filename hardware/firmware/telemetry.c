// The board's own lines: when each is due. says.c has what is in them.
#include "telemetry.h"
#include "analog.h"
#include "losses.h"
#include "says.h"
#include "session.h"
#include "tick.h"
#include "uart.h"
#include "watchdog.h"
#include <stdbool.h>
#include <stdint.h>

#define SEEN_EVERY_MS 50
#define LOST_EVERY_MS 1000

enum line { LINE_BOOT, LINE_BOARD, LINE_SEEN, LINE_LOST, LINE_COUNT };

static uint8_t due; // a bit for each line
static uint8_t turn;
static uint32_t looked_at_ms, seen_at_ms, lost_at_ms;

void telemetry_begin(void) { due = 1 << LINE_BOOT; }

void telemetry_answer(void) { due |= 1 << LINE_BOARD | 1 << LINE_SEEN | 1 << LINE_LOST; }

void telemetry_identify(void) { due |= 1 << LINE_BOARD; }

// A line whose forerunner was never sent has taken its place.
static void regularly(enum line line, uint16_t every_ms, uint32_t *last_ms, uint32_t now_ms) {
    if (now_ms - *last_ms < every_ms)
        return;
    *last_ms += every_ms;
    if (line == LINE_SEEN && session_number() == 0)
        return;
    if (due & 1 << line)
        losses_count(LOSS_UNSENT);
    due |= 1 << line;
}

static bool can_say(enum line line) { return (due & 1 << line) && (line != LINE_SEEN || analog_ready()); }

static void say(enum line line) {
    switch (line) {
    case LINE_BOOT:
        say_boot();
        break;
    case LINE_BOARD:
        say_board();
        break;
    case LINE_SEEN:
        say_seen();
        break;
    default:
        say_lost();
    }
}

// In turn, so that a line asked for over and over holds up no other.
static void say_next(void) {
    for (uint8_t tried = 0; tried < LINE_COUNT; tried++) {
        enum line line = turn;
        turn = (turn + 1) % LINE_COUNT;
        if (can_say(line)) {
            due &= ~(1 << line);
            say(line);
            return;
        }
    }
}

void telemetry_step(void) {
    uint32_t now_ms = tick_ms();
    // The main loop comes by for every byte that is sent, too.
    if (now_ms != looked_at_ms) {
        looked_at_ms = now_ms;
        regularly(LINE_SEEN, SEEN_EVERY_MS, &seen_at_ms, now_ms);
        regularly(LINE_LOST, LOST_EVERY_MS, &lost_at_ms, now_ms);
    }
    if (due && uart_room() >= LONGEST_SAID)
        say_next();
    watchdog_alive(ALIVE_TELEMETRY);
}
