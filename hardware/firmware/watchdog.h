// The watchdog: fed only when everything that it vouches for has shown life since the last time. And the cause of boot.
#pragma once
#include <stdint.h>

#define ALIVE_TICK 1
#define ALIVE_RECEIVER 2
#define ALIVE_TELEMETRY 4

enum boot_cause { BOOT_POWER, BOOT_RESET_PIN, BOOT_BROWN_OUT, BOOT_WATCHDOG, BOOT_UNKNOWN };

/** Says that a part is alive. */
void watchdog_alive(uint8_t part);
/** Feeds the watchdog if all parts are. */
void watchdog_step(void);
enum boot_cause watchdog_boot_cause(void);
