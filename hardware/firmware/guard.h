// Whether the board may drive anything: armed or not, and why not. Whatever drops the outputs goes through here.
#pragma once
#include <stdbool.h>
#include <stdint.h>

/** Silence after the last obeyed line that drops every output; the protocol's promise is 250 ms. */
#define EXPIRE_MS 240

enum trip { TRIP_NONE, TRIP_LINK_LOST, TRIP_EMERGENCY_STOP, TRIP_HIGH_PRESSURE, TRIP_OUTPUT_CHAIN, TRIP_WATCHDOG };

/** Everything off and not armed. The first reason is kept until the board is armed again. */
void guard_trip(enum trip reason);
/** Everything off and not armed, for no fault. */
void guard_disarm(void);
/** Every output off, the trip forgotten, armed; false where that may not be. */
bool guard_arm(void);
/** A line was obeyed: silence begins anew. */
void guard_renew(void);
/** Once a tick, before the outputs are driven: switches and silence. */
void guard_step(void);
/** Once a tick, after the outputs were driven: the register chain. */
void guard_chain_step(void);

bool guard_armed(void);
enum trip guard_reason(void);
