// What a notice must speak of to be a fitting cause or remedy for a fault: words of its text or of its remedy.
import type { Notice } from '../../controller/notice.ts';
import type { FaultName } from '../../sim/faults.ts';

const SCALE = /scale|platform/i;
const SENSOR = /sensor|gauge|not read|unread|unknown/i;
const OUTPUT = /valve|coil|relay|pump|compressor|heater|coupler|filter|leak|open fitting/i;
const HOSE = /hose|coupler|open fitting|opening|port|leak/i;
const VEHICLE = /compressor|condenser|expansion|restriction|airflow|overcharge/i;

/** Absent where the record itself says it: when the power has failed nobody is left to tell. */
const FITTING: { readonly [F in FaultName]?: RegExp } = {
  'scale-leaned-on': SCALE,
  'scale-stuck': SCALE,
  'scale-spikes': SCALE,
  'scale-drift': SCALE,
  'scale-open': SCALE,
  'low-sensor-open': SENSOR,
  'high-sensor-short': SENSOR,
  'high-sensor-stuck': SENSOR,
  'tank-sensor-open': SENSOR,
  'manifold-sensor-open': SENSOR,
  'tank-temperature-open': /temperature|thermometer/i,
  'sensors-swapped': /plugs|sensor/i,
  'tank-valve-shut': /tank.{0,20}valve|valve.{0,20}tank|filter/i,
  'coupler-shut': /coupler|shut valve/i,
  'hose-off': HOSE,
  'high-hose-off': HOSE,
  'cabinet-leaks': /gas|leak|escape/i,
  'filter-blocked': /filter/i,
  'charge-valve-leaks': /valve.{0,30}leak|charge valve/i,
  'vacuum-valve-stuck-open': /valve|pump|leak|open fitting/i,
  'relay-welded': OUTPUT,
  'output-dead': OUTPUT,
  'fan-stopped': /fan/i,
  'wrong-tank': /tank/i,
  'drain-float-stuck': /drain|float|separator/i,
  'oil-bottle-empty': /bottle/i,
  'dye-bottle-empty': /bottle/i,
  'engine-started-early': /engine/i,
  'prompts-not-obeyed': /coupler|engine|hose|confirm|cylinder/i,
  'emergency-stop': /emergency/i,
  'gas-alarm': /gas/i,
  'pressure-switch-open': /pressure switch|discharge|cut out/i,
  'vehicle-compressor-weak': VEHICLE,
  'vehicle-condenser-blocked': VEHICLE,
  'vehicle-expansion-clogged': VEHICLE,
  'compressor-weak': /compressor/i,
  'pump-oil-dirty': /pump/i,
  'link-lost': /line|board|cable/i,
};

export const fits = (fault: FaultName, notices: readonly Pick<Notice, 'text' | 'remedy'>[]): boolean => {
  const words = FITTING[fault];
  return words === undefined || notices.some(({ text, remedy }) => words.test(`${text} ${remedy}`));
};
