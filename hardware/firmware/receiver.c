// Gathers received bytes into lines and has each read and obeyed.
#include "receiver.h"
#include "frame.h"
#include "losses.h"
#include "session.h"
#include "uart.h"
#include "watchdog.h"
#include <stdbool.h>

// Bounded, so that a flood cannot keep the rest of the main loop waiting.
#define BYTES_A_STEP 64

static uint8_t line[LONGEST_LINE];
static uint8_t length;
static bool too_long;
static struct frame frame;

static void take(uint8_t byte) {
    if (byte == '\n' || byte == '\r') {
        if (length && !too_long) {
            frame_read(line, length, &frame);
            session_obey(&frame);
        }
        length = 0;
        too_long = false;
        return;
    }
    if (length < LONGEST_LINE) {
        line[length++] = byte;
    } else if (!too_long) {
        too_long = true;
        losses_count(LOSS_LONG);
    }
}

void receiver_step(void) {
    for (uint8_t bytes = 0; bytes < BYTES_A_STEP && uart_waiting(); bytes++)
        take(uart_take());
    watchdog_alive(ALIVE_RECEIVER);
}
