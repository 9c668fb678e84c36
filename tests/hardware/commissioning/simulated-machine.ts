// A simulated machine as its builder meets it: empty, with air in it, a vessel, nitrogen, masses and references at hand.
import { type Bench, createBench } from '../../../sim/bench.ts';
import { drawBuild } from '../../../sim/build.ts';
import { PROFILES, type ProfileName } from '../../../sim/profiles.ts';
import type { BenchSpec, Build } from '../../../sim/spec.ts';
import { specOf, tablesOf } from '../../sim/hand.ts';
import { BenchBoard, type MachineBoard } from './bench-board.ts';
import type { Hands, Told } from './walk.ts';

const AIR_J_PER_KG_K = 287.05;
const ROOM_K = 293.15;
const ROOM_PA = 97_300;
const VESSEL_M3 = 0.4e-3;
const MASSES_KG = [5, 10, 20] as const;
const TANK_M3 = 21.6e-3;
const HOSE_GAUGE_PA = 700_000;
/** The simulator's fluid cannot be quite absent; a trace of it counts as the air that it displaces. */
const TRACE_KG = 1e-5;
const REFRIGERANT_J_PER_KG_K = 81.5;

const airKg = (pressurePa: number, volumeM3: number): number => {
  const tracePa = (TRACE_KG * REFRIGERANT_J_PER_KG_K * ROOM_K) / volumeM3;
  return ((pressurePa - tracePa) * volumeM3) / (AIR_J_PER_KG_K * ROOM_K);
};

type Air = { readonly vehicleM3: number; readonly vehiclePa: number; readonly tankPa: number };

function specWith(build: Build, seed: number, { vehicleM3, vehiclePa, tankPa }: Air): BenchSpec {
  const spec = specOf({
    seed,
    barometerPa: ROOM_PA,
    vehicle: { chargeKg: TRACE_KG, volumeM3: vehicleM3, airKg: airKg(vehiclePa, vehicleM3) },
  });
  return {
    ...spec,
    build,
    tank: { ...spec.tank, contentKg: TRACE_KG, waterCapacityM3: TANK_M3, airKg: airKg(tankPa, TANK_M3) },
  };
}

/** What its builder types: the data sheets of the simulator's sensors. */
const FACTS: Hands = {
  name: 'bench machine',
  refrigerant: 'R-134a',
  waterCapacityM3: '21.6 L',
  fillLimitKg: '17 kg',
  tankTemperatureLimitK: '113 °F',
  optionalOutputs: 'oilValve, separatorDrainValve, airPurgeValve, tankHeater, fanStop',
  optionalSensors: 'barometer',
  highSideFromPa: '0',
  highSideToPa: '30 bar',
  lowSideFromPa: '-1 bar',
  lowSideToPa: '9',
  tankFromPa: '0',
  tankToPa: '290.0755 psi',
  manifoldFromPa: '0',
  manifoldToPa: '1.6 bar',
  thermistorOhms: '10 kohm',
  thermistorBetaK: '3950',
  pullUpOhms: '10000',
  barometerFromPa: '500 hPa',
  barometerToPa: '1150 hPa',
  scaleDriftKgPerK: '1 g/K',
  cutOutPa: '25 bar',
  compressorSweptM3PerS: '0.24',
  condenserM3: '120 mL',
  separatorM3: '0.4',
  compressorMinimumOffMs: '2 min',
  pumpOpenLimitPa: '1.1',
  pumpUltimatePa: '3',
  separatorFloat: 'yes',
  oilKind: 'PAG',
  oilFlowM3PerSPa: '6.6',
  oilLineFilmM3: '2 mL',
};

export type Machine<B extends MachineBoard = BenchBoard> = {
  readonly build: Build;
  readonly board: B;
  readonly hands: Hands;
  readonly told: Told;
};

export const machineOf = (profile: ProfileName, seed: number): Machine =>
  machineWith(profile, seed, (bench) => new BenchBoard(bench));

/** The reference gauge is off by so much, as a share; within what its class allows. */
const GAUGE_ERROR = 0.001;

export function machineWith<B extends MachineBoard>(
  profile: ProfileName,
  seed: number,
  boardFor: (bench: Bench) => B,
): Machine<B> {
  const build = drawBuild(PROFILES[profile], seed);
  const bench = (air: Air): Bench => createBench(specWith(build, seed, air), tablesOf('R-134a'));
  const board = boardFor(bench({ vehicleM3: VESSEL_M3, vehiclePa: ROOM_PA, tankPa: ROOM_PA }));
  const ends = (open: boolean): void => {
    board.bench.switchFault({ fault: 'hose-off' }, open);
    board.bench.switchFault({ fault: 'high-hose-off' }, open);
  };
  const press = (fault: 'emergency-stop' | 'pressure-switch-open' | 'fan-stopped', on: boolean) => () =>
    board.bench.switchFault({ fault }, on);
  const own = board.bench;
  /** The simulator has no nitrogen: a vehicle full of air under pressure stands for it. */
  const pressed = (gaugePa: number, tankPa: number): void => {
    const other = bench({ vehicleM3: 2.5e-3, vehiclePa: gaugePa + ROOM_PA, tankPa });
    other.operate('connect-hoses');
    board.exchange(other);
    board.advanceTo(board.nowMs + 30_000);
  };
  const segment = (name: string): number =>
    board.bench.inspect().segments.find((one) => one.name === name)!.pressurePa - ROOM_PA;
  const gauge = (pa: number): string => `${(pa * (1 + GAUGE_ERROR)) / 1e5} bar`;
  const load = (kg: number): string => {
    board.bench.switchFault({ fault: 'scale-leaned-on', size: kg }, true);
    return '';
  };
  const order = Array.from({ length: 3 }, () => [0, ...MASSES_KG, 10, 5])
    .flat()
    .concat(0);
  const loads = Object.fromEntries(order.map((kg, index) => [`scale.load.${index}`, () => load(kg)]));
  const open = () => {
    ends(true);
    return '';
  };
  const shut = () => {
    ends(false);
    return '';
  };
  const hands: Hands = {
    ...FACTS,
    ...loads,
    'machine-empty': 'yes',
    'emergency-stop.released': '',
    'emergency-stop.dark': 'y',
    'high-pressure.dark': 'y',
    'link-loss.dropped': 'yes',
    'atmosphere.barometer': `${ROOM_PA / 100}`,
    'atmosphere.open': open,
    'second-point.shut': shut,
    'second-point.gauge-error': '0.02 bar',
    'second-point.highSide': () => {
      pressed(HOSE_GAUGE_PA, 600_000);
      return gauge(segment('high-side hose'));
    },
    'second-point.lowSide': () => gauge(segment('low-side hose')),
    'second-point.tank': () => gauge(board.bench.inspect().tank.pressurePa - ROOM_PA),
    'second-point.released': () => {
      board.exchange(own);
      return '';
    },
    'temperatures.rested': '',
    'temperatures.error': '0.2 K',
    'temperatures.*': `${(ROOM_K - 273.15) * 1.8 + 32} F`,
    'scale.masses': '5, 10, 20 kg',
    'scale.mass-error': '100 ppm',
    'scale.empty': () => load(0),
    'scale.creep': () => load(20),
    // A scale that has not crept, for both weighings of the tank.
    'scale.tank': () => {
      pressed(0, ROOM_PA);
      return '';
    },
    'scale.hose-pressure': () => {
      pressed(HOSE_GAUGE_PA, ROOM_PA);
      return gauge((segment('high-side hose') + segment('low-side hose')) / 2);
    },
    'scale.released': () => {
      board.exchange(own);
      return '';
    },
    'dead-time.open': open,
    'volumes.vessel': `${VESSEL_M3 * 1e6} mL`,
    'volumes.vessel-error': '0.5 %',
    'volumes.open': open,
    'volumes.shut': shut,
    'volumes.vessel-on': () => {
      board.bench.switchFault({ fault: 'high-hose-off' }, true);
      board.advanceTo(board.nowMs + 5_000);
      board.bench.switchFault({ fault: 'high-hose-off' }, false);
      board.bench.switchFault({ fault: 'hose-off' }, true);
      board.bench.operate('connect-hoses');
      return '';
    },
    'leak-test.shut': () => {
      board.bench.operate('disconnect-hoses');
      return shut();
    },
    'click-test.*': 'y',
    ...Object.fromEntries(
      ['ready', 'moved'].flatMap((part) =>
        [
          'highSideValve',
          'lowSideValve',
          'recoveryValve',
          'vacuumValve',
          'chargeValve',
          'oilValve',
          'separatorDrainValve',
          'airPurgeValve',
          'compressor',
          'vacuumPump',
          'tankHeater',
          'fanStop',
        ].map((output) => [`click-test.${output}.${part}`, 'yes']),
      ),
    ),
  };
  const told: Told = [
    [/Press the emergency stop/, press('emergency-stop', true)],
    [/Release the emergency stop/, press('emergency-stop', false)],
    [/Open the high-pressure switch/, press('pressure-switch-open', true)],
    [/Close the high-pressure switch/, press('pressure-switch-open', false)],
    [/Take the air away/, press('fan-stopped', true)],
    [/Let the air pass/, press('fan-stopped', false)],
  ];
  return { build, board, hands, told };
}
