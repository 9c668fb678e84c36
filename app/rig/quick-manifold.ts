// The manifold's transmitter on its wire: it follows its pipe at every moment, where the bench samples ten times a second.
import type { Readings } from '../../controller/signals.ts';
import type { Bench, LiveBench } from '../../sim/bench.ts';

/**
 * A bench whose manifold reading moves between two samples as the pressure in the pipe does; error and noise are those of
 * the last sample. A valve's dead time is found by it, and a sample that is late would count as the valve's.
 * @param current the bench, or the one that has been put in its place.
 */
export function quickManifold(current: () => Bench): LiveBench {
  let sampled: Readings | undefined;
  let sampledPa = 0;
  const readings = (): Readings => {
    const last = current().readings();
    const { manifoldPa } = current().inspect();
    if (last !== sampled) {
      sampled = last;
      sampledPa = manifoldPa;
    }
    const { manifoldPressurePa } = last;
    if (!manifoldPressurePa.ok || manifoldPa === sampledPa) return last;
    const value = manifoldPressurePa.value + manifoldPa - sampledPa;
    return { ...last, manifoldPressurePa: { ok: true, value, atMs: current().nowMs() } };
  };
  return {
    readings,
    capabilities: current().capabilities,
    nowMs: () => current().nowMs(),
    apply: (commands) => current().apply(commands),
    advanceTo: (timeMs) => current().advanceTo(timeMs),
    operate: (action) => current().operate(action),
    openVehicle: (open) => current().openVehicle(open),
    switchFault: (fault, on) => current().switchFault(fault, on),
    catchBottleM3: () => current().catchBottleM3(),
    truth: () => current().truth(),
    within: () => current().within(),
  };
}
