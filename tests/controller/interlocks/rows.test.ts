// Each interlock row, with the case it is for and the negative twin beside it.
import { describe, expect, test } from 'vitest';
import { BANDS, type Bands } from '../../../controller/interlocks/bands.ts';
import type { Fitting } from '../../../controller/interlocks/interlock.ts';
import { permit } from '../../../controller/interlocks/permit.ts';
import { MEMORY, type Remembered } from '../../../controller/interlocks/remembered.ts';
import { INTERLOCKS } from '../../../controller/interlocks/table.ts';
import { type Commands, OUTPUTS, type Output, SAFE_COMMANDS } from '../../../controller/signals.ts';
import { want } from '../../../controller/stages/stage.ts';
import { CALM_BANDS, CALM_MEMORY } from '../support/calm.ts';

const ALL_FITTED = Object.fromEntries(OUTPUTS.map((output) => [output, 'fitted'])) as unknown as Fitting;

const RECOVER = ['highSideValve', 'lowSideValve', 'recoveryValve', 'compressor'] as const;
const EVACUATE = ['highSideValve', 'lowSideValve', 'vacuumValve', 'vacuumPump'] as const;
const CHARGE = ['highSideValve', 'chargeValve'] as const;
const DRAIN = ['recoveryValve', 'separatorDrainValve'] as const;
const ADD_OIL = ['highSideValve', 'oilValve'] as const;
const ADD_DYE = ['highSideValve', 'dyeValve'] as const;
const CLEAR = ['highSideValve', 'lowSideValve'] as const;
const PURGE = ['airPurgeValve'] as const;
const VACUUM = { manifold: 'vacuum' } as const;

type Case = {
  readonly row: string;
  readonly title: string;
  readonly wants: readonly Output[];
  readonly bands?: Partial<Bands>;
  readonly memory?: Partial<Remembered>;
  readonly fitting?: Partial<Fitting>;
  /** The rig switches every wish off after this. */
  readonly briefMs?: number;
  /** What must not come through; everything else that is wanted must. */
  readonly falls: readonly Output[];
  readonly trips?: string;
};

const wish = ({ wants, briefMs }: Pick<Case, 'wants' | 'briefMs'>): Commands =>
  briefMs === undefined
    ? want(...wants)
    : {
        ...SAFE_COMMANDS,
        ...Object.fromEntries(wants.map((output) => [output, { on: true, offAfterMs: briefMs }])),
      };

const judge = ({ wants, bands, memory, fitting, briefMs }: Case) =>
  permit(
    wish(briefMs === undefined ? { wants } : { wants, briefMs }),
    { ...CALM_BANDS, ...bands },
    { ...CALM_MEMORY, ...memory },
    { ...ALL_FITTED, ...fitting },
  );

const on = (commands: { readonly [O in Output]: { readonly on: boolean } }): Output[] =>
  OUTPUTS.filter((output) => commands[output].on);

const CASES: readonly Case[] = [
  {
    row: 'IL-01-compressor',
    title: 'an output that is not fitted stays off',
    wants: RECOVER,
    fitting: { compressor: 'not-fitted' },
    falls: ['compressor'],
  },
  {
    row: 'IL-02',
    title: 'a latched trip keeps everything off',
    wants: EVACUATE,
    memory: { trip: 'latched' },
    falls: EVACUATE,
  },
  {
    row: 'IL-03',
    title: 'a clock that jumped switches everything off',
    wants: RECOVER,
    memory: { clock: 'jumped' },
    falls: RECOVER,
  },
  {
    row: 'IL-04',
    title: 'the emergency stop trips',
    wants: CHARGE,
    bands: { emergencyStop: 'tripped' },
    falls: CHARGE,
    trips: 'emergency-stop',
  },
  {
    row: 'IL-04',
    title: 'an unknown emergency stop keeps everything off without a trip',
    wants: CHARGE,
    bands: { emergencyStop: 'unknown' },
    falls: CHARGE,
  },
  {
    row: 'IL-05',
    title: 'the high-pressure switch trips',
    wants: RECOVER,
    bands: { highPressureSwitch: 'tripped' },
    falls: RECOVER,
    trips: 'high-pressure-switch',
  },
  {
    row: 'IL-05',
    title: 'an unknown high-pressure switch stops recovery',
    wants: RECOVER,
    bands: { highPressureSwitch: 'unknown' },
    falls: ['recoveryValve', 'compressor'],
  },
  {
    row: 'IL-06',
    title: 'tank pressure near the cut-out trips',
    wants: RECOVER,
    bands: { tankPressure: 'high' },
    falls: RECOVER,
    trips: 'tank-pressure-high',
  },
  {
    row: 'IL-06',
    title: 'an unknown tank pressure stops recovery',
    wants: RECOVER,
    bands: { tankPressure: 'unknown' },
    falls: ['recoveryValve', 'compressor'],
  },
  {
    row: 'IL-07',
    title: 'a full tank takes nothing more',
    wants: RECOVER,
    bands: { tankMass: 'full' },
    falls: ['recoveryValve', 'compressor'],
  },
  {
    row: 'IL-07',
    title: 'a tank of unknown mass takes nothing',
    wants: RECOVER,
    bands: { tankMass: 'unknown' },
    falls: ['recoveryValve', 'compressor'],
  },
  {
    row: 'IL-08',
    title: 'a hot tank is not heated',
    wants: ['tankHeater'],
    bands: { tankTemperature: 'hot' },
    falls: ['tankHeater'],
  },
  {
    row: 'IL-08',
    title: 'a tank of unknown temperature is not heated',
    wants: ['tankHeater'],
    bands: { tankTemperature: 'unknown' },
    falls: ['tankHeater'],
  },
  {
    row: 'IL-08',
    title: 'a nearly empty tank is not heated',
    wants: ['tankHeater'],
    bands: { tankLiquid: 'short' },
    falls: ['tankHeater'],
  },
  {
    row: 'IL-08',
    title: 'a tank that nobody knows the liquid of is not heated',
    wants: ['tankHeater'],
    bands: { tankLiquid: 'unknown' },
    falls: ['tankHeater'],
  },
  {
    row: 'IL-09',
    title: 'the vacuum valve stays shut while the pump comes up to speed',
    wants: EVACUATE,
    memory: { pump: 'starting' },
    falls: ['vacuumValve'],
  },
  {
    row: 'IL-09',
    title: 'the vacuum valve shuts when the pump is not wanted',
    wants: ['highSideValve', 'vacuumValve'],
    falls: ['vacuumValve'],
  },
  {
    row: 'IL-10',
    title: 'the pump is not opened to pressure',
    wants: EVACUATE,
    bands: { manifold: 'over-limit' },
    falls: ['vacuumValve'],
  },
  {
    row: 'IL-10',
    title: 'the pump is not opened to an unknown pressure',
    wants: EVACUATE,
    bands: { manifold: 'unknown' },
    falls: ['vacuumValve'],
  },
  {
    row: 'IL-11',
    title: 'a vehicle that the absolute sensor has not seen is not opened to the pump',
    wants: EVACUATE,
    memory: { highPath: 'apart' },
    falls: ['vacuumValve'],
  },
  {
    row: 'IL-11',
    title: 'the same holds for the low side',
    wants: EVACUATE,
    memory: { lowPath: 'apart' },
    falls: ['vacuumValve'],
  },
  {
    row: 'IL-12',
    title: 'vacuum and recovery are never open together',
    wants: [...EVACUATE, 'recoveryValve'],
    falls: ['vacuumValve', 'recoveryValve'],
  },
  {
    row: 'IL-13',
    title: 'vacuum and charge are never open together',
    wants: ['highSideValve', 'vacuumValve', 'vacuumPump', 'chargeValve'],
    falls: ['vacuumValve', 'chargeValve'],
  },
  {
    row: 'IL-14',
    title: 'the pump is not opened to a manifold with liquid',
    wants: EVACUATE,
    memory: { manifoldHolds: 'liquid' },
    falls: ['vacuumValve'],
  },
  {
    row: 'IL-15',
    title: 'the compressor does not run against a shut suction',
    wants: ['highSideValve', 'compressor'],
    falls: ['compressor'],
  },
  {
    row: 'IL-16',
    title: 'the compressor rests before it starts again',
    wants: RECOVER,
    memory: { compressor: 'just-stopped' },
    falls: ['compressor'],
  },
  {
    row: 'IL-17',
    title: 'a running compressor that draws air trips',
    wants: RECOVER,
    memory: { suction: 'steady-at-barometer', compressor: 'running' },
    falls: RECOVER,
    trips: 'air-suspected',
  },
  {
    row: 'IL-17',
    title: 'a compressor does not start on air',
    wants: RECOVER,
    memory: { suction: 'steady-at-barometer' },
    falls: ['compressor'],
  },
  {
    row: 'IL-18',
    title: 'the compressor does not draw a vacuum',
    wants: RECOVER,
    bands: { manifold: 'vacuum' },
    falls: ['compressor'],
  },
  {
    row: 'IL-18',
    title: 'the compressor needs a sensor that shows pressure',
    wants: RECOVER,
    bands: { manifold: 'unknown', highHose: 'unknown', lowHose: 'no-pressure' },
    falls: ['compressor'],
  },
  {
    row: 'IL-19',
    title: 'charge and recovery are never open together',
    wants: [...CHARGE, 'recoveryValve'],
    falls: ['chargeValve', 'recoveryValve'],
  },
  {
    row: 'IL-20',
    title: 'nothing is charged by a doubtful scale',
    wants: CHARGE,
    bands: { scale: 'doubtful' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-21',
    title: 'nothing is charged without liquid over the dip tube',
    wants: CHARGE,
    bands: { tankLiquid: 'short' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-21',
    title: 'nothing is charged from a tank that nobody knows the liquid of',
    wants: CHARGE,
    bands: { tankLiquid: 'unknown' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-22',
    title: 'liquid does not go into the low side',
    wants: [...CHARGE, 'lowSideValve'],
    falls: ['chargeValve', 'lowSideValve'],
  },
  {
    row: 'IL-22',
    title: 'liquid does not go into a dead end',
    wants: ['chargeValve'],
    falls: ['chargeValve'],
  },
  {
    row: 'IL-23',
    title: 'a hotter high side does not push back into the tank',
    wants: CHARGE,
    bands: { chargeDirection: 'reverse' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-23',
    title: 'an unknown direction is no permission',
    wants: CHARGE,
    bands: { chargeDirection: 'unknown' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-45',
    title: 'nothing more is charged when all that the vehicle may have has left the tank',
    wants: CHARGE,
    memory: { given: 'spent' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-45',
    title: 'nothing is charged on top of what nobody knows the vehicle to hold',
    wants: CHARGE,
    memory: { given: 'unknown' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-24',
    title: 'the gas alarm trips',
    wants: RECOVER,
    bands: { gasAlarm: 'tripped' },
    falls: RECOVER,
    trips: 'gas-alarm',
  },
  {
    row: 'IL-24',
    title: 'an unknown gas alarm stops a flammable refrigerant',
    wants: RECOVER,
    bands: { gasAlarm: 'unknown', flammability: 'mild' },
    falls: RECOVER,
  },
  {
    row: 'IL-25',
    title: 'a flammable refrigerant needs moving air',
    wants: RECOVER,
    bands: { flammability: 'mild' },
    memory: { fan: 'unproven' },
    falls: RECOVER,
  },
  {
    row: 'IL-26',
    title: 'the fan is not stopped around a flammable refrigerant',
    wants: [...RECOVER, 'fanStop'],
    bands: { flammability: 'mild' },
    falls: ['fanStop'],
  },
  {
    row: 'IL-22',
    title: 'a second pulse does not go into a manifold that no way out has relieved',
    wants: ['chargeValve'],
    briefMs: 60,
    memory: { deadEnd: 'fed' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-22',
    title: 'a long pulse does not go into the closed manifold',
    wants: ['chargeValve'],
    briefMs: 101,
    falls: ['chargeValve'],
  },
  {
    row: 'IL-34',
    title: 'nothing is charged out of a cylinder for contaminated refrigerant',
    wants: CHARGE,
    bands: { tankUse: 'contaminated' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-35',
    title: 'oil of another kind than the vehicle has stays in its bottle',
    wants: ADD_OIL,
    bands: { ...VACUUM, bottleOil: 'other' },
    falls: ['oilValve'],
  },
  {
    row: 'IL-35',
    title: 'oil of an unknown kind stays in its bottle',
    wants: ADD_OIL,
    bands: { ...VACUUM, bottleOil: 'unknown' },
    falls: ['oilValve'],
  },
  {
    row: 'IL-44',
    title: "dye that the vehicle's maker does not allow stays out of an electric compressor",
    wants: ADD_DYE,
    bands: { ...VACUUM, bottleDye: 'other' },
    falls: ['dyeValve'],
  },
  {
    row: 'IL-44',
    title: 'dye of which nothing is known stays in its bottle',
    wants: ADD_DYE,
    bands: { ...VACUUM, bottleDye: 'unknown' },
    falls: ['dyeValve'],
  },
  {
    row: 'IL-27',
    title: 'oil and dye are not drawn at once',
    wants: [...ADD_OIL, 'dyeValve'],
    bands: VACUUM,
    falls: ['oilValve', 'dyeValve'],
  },
  ...(['none', 'unsettled', 'unknown'] as const).map(
    (tankAir): Case => ({
      row: 'IL-36',
      title: `nothing is vented out of a tank whose air is ${tankAir}`,
      wants: PURGE,
      bands: { tankAir },
      falls: PURGE,
    }),
  ),
  {
    row: 'IL-36',
    title: 'nothing is vented out of a tank that was stirred not long ago',
    wants: PURGE,
    memory: { tankRest: 'stirred' },
    falls: PURGE,
  },
  {
    row: 'IL-37',
    title: 'a purge ends when its time is spent',
    wants: PURGE,
    memory: { purge: 'spent' },
    falls: PURGE,
  },
  {
    row: 'IL-37',
    title: 'nothing is vented that no scale counts',
    wants: PURGE,
    bands: { scale: 'doubtful' },
    falls: PURGE,
  },
  {
    row: 'IL-38',
    title: 'nothing is vented while the compressor runs',
    wants: [...RECOVER, ...PURGE],
    falls: PURGE,
  },
  {
    row: 'IL-38',
    title: 'nothing is vented while the heater is on',
    wants: ['tankHeater', ...PURGE],
    falls: PURGE,
  },
  {
    row: 'IL-40',
    title: 'a valve that leaks through shuts everything between tank and vehicle',
    wants: CHARGE,
    memory: { seats: 'leaks' },
    falls: CHARGE,
    trips: 'valve-leaks-through',
  },
  {
    row: 'IL-41',
    title: 'and so does a tank that loses mass with every valve shut',
    wants: CHARGE,
    memory: { restMass: 'falling' },
    falls: CHARGE,
    trips: 'tank-loses-mass',
  },
  {
    row: 'IL-42',
    title: 'a compressor whose gas does not arrive in the tank trips',
    wants: RECOVER,
    memory: { delivery: 'blocked' },
    falls: RECOVER,
    trips: 'delivery-blocked',
  },
  {
    row: 'IL-28',
    title: 'the drain stays shut at or below the atmosphere',
    wants: DRAIN,
    bands: { drainPressure: 'at-ambient' },
    falls: ['separatorDrainValve'],
  },
  {
    row: 'IL-28',
    title: 'the drain stays shut at an unknown pressure',
    wants: DRAIN,
    bands: { drainPressure: 'unknown' },
    falls: ['separatorDrainValve'],
  },
  {
    row: 'IL-28',
    title: 'the drain stays shut where the absolute sensor does not see the separator',
    wants: ['separatorDrainValve'],
    falls: ['separatorDrainValve'],
  },
  {
    row: 'IL-29',
    title: 'the drain is not opened to the vehicle',
    wants: [...DRAIN, 'lowSideValve'],
    falls: ['separatorDrainValve'],
  },
  {
    row: 'IL-29',
    title: 'the drain is not opened under a running compressor',
    wants: [...DRAIN, 'compressor'],
    falls: ['separatorDrainValve'],
  },
  {
    row: 'IL-30',
    title: 'the oil bottle is not opened to pressure',
    wants: ADD_OIL,
    bands: { manifold: 'low' },
    falls: ['oilValve'],
  },
  {
    row: 'IL-30',
    title: 'the oil bottle is not opened to an unknown pressure',
    wants: ADD_OIL,
    bands: { manifold: 'unknown' },
    falls: ['oilValve'],
  },
  {
    row: 'IL-31',
    title: 'oil does not go into the low side',
    wants: [...ADD_OIL, 'lowSideValve'],
    bands: VACUUM,
    falls: ['oilValve'],
  },
  {
    row: 'IL-31',
    title: 'oil does not go to the pump',
    wants: [...ADD_OIL, 'vacuumPump', 'vacuumValve'],
    bands: VACUUM,
    falls: ['oilValve'],
  },
  {
    row: 'IL-31',
    title: 'oil does not go into a dead end',
    wants: ['oilValve'],
    bands: VACUUM,
    falls: ['oilValve'],
  },
  ...(['low', 'barometric', 'over-limit', 'unknown'] as const).map(
    (manifold): Case => ({
      row: 'IL-30',
      title: `the bottle of dye is not opened to a manifold that is ${manifold}`,
      wants: ADD_DYE,
      bands: { manifold },
      falls: ['dyeValve'],
    }),
  ),
  ...(
    [
      [['dyeValve'], ['dyeValve'], 'into a dead end'],
      [[...ADD_DYE, 'lowSideValve'], ['dyeValve'], 'into the low side'],
      [[...ADD_DYE, 'vacuumPump', 'vacuumValve'], ['dyeValve'], 'to the pump'],
      [[...ADD_DYE, 'chargeValve'], ['dyeValve'], 'against tank liquid'],
      [[...ADD_DYE, 'recoveryValve'], ['dyeValve'], 'into the recovery path'],
    ] as const
  ).map(
    ([wants, falls, where]): Case => ({
      row: 'IL-31',
      title: `dye does not go ${where}`,
      wants,
      bands: VACUUM,
      falls,
    }),
  ),
  {
    row: 'IL-29',
    title: 'the drain is not opened beside the bottle of dye',
    wants: [...DRAIN, 'dyeValve'],
    falls: ['separatorDrainValve', 'dyeValve'],
  },
  {
    row: 'IL-32',
    title: 'no dye is drawn while the engine runs',
    wants: ADD_DYE,
    bands: VACUUM,
    memory: { engine: 'running' },
    falls: ['dyeValve'],
  },
  {
    row: 'IL-32',
    title: 'nothing is recovered while the engine runs',
    wants: RECOVER,
    memory: { engine: 'running' },
    falls: ['recoveryValve', 'compressor'],
  },
  {
    row: 'IL-32',
    title: 'nothing is charged while the engine runs',
    wants: CHARGE,
    memory: { engine: 'running' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-32',
    title: 'nothing is evacuated while the engine runs',
    wants: EVACUATE,
    memory: { engine: 'running' },
    falls: ['vacuumValve'],
  },
  {
    row: 'IL-32',
    title: 'a pulse into the manifold is not given while a hose stands open to a running engine',
    wants: ['chargeValve', 'highSideValve'],
    briefMs: 100,
    memory: { engine: 'running' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-32',
    title: 'a charge valve that nothing counts down stays shut while the engine runs',
    wants: ['chargeValve'],
    memory: { engine: 'running' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-39',
    title: 'a running vehicle is not fed while its suction or its high side stands at the limit',
    wants: ['chargeValve'],
    briefMs: 100,
    bands: { runningSides: 'strained' },
    memory: { engine: 'running' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-39',
    title: 'nor while nobody sees them',
    wants: ['chargeValve'],
    briefMs: 100,
    bands: { runningSides: 'unknown' },
    memory: { engine: 'running' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-23',
    title: 'a pulse into the manifold meets a hotter high side where no engine runs',
    wants: ['chargeValve'],
    briefMs: 100,
    bands: { chargeDirection: 'reverse' },
    falls: ['chargeValve'],
  },
  ...(
    [
      [['chargeValve'], { vacuumSeat: 'may-be-open' }, CHARGE, 'tank liquid after the pump'],
      [['chargeValve'], { recoverySeat: 'may-be-open' }, CHARGE, 'tank liquid after the recovery path'],
      [['chargeValve'], { lowSeat: 'may-be-open' }, CHARGE, 'tank liquid after the low side'],
      [
        ['lowSideValve', 'vacuumValve'],
        { chargeSeat: 'may-be-open' },
        EVACUATE,
        'the pump after tank liquid',
      ],
      [['vacuumValve'], { recoverySeat: 'may-be-open' }, EVACUATE, 'the pump after the recovery path'],
      [['separatorDrainValve'], { highSeat: 'may-be-open' }, DRAIN, 'the drain after the high side'],
      [['separatorDrainValve'], { lowSeat: 'may-be-open' }, DRAIN, 'the drain after the low side'],
      [DRAIN, { vacuumSeat: 'may-be-open' }, DRAIN, 'the drain after the pump'],
      [DRAIN, { chargeSeat: 'may-be-open' }, DRAIN, 'the drain after tank liquid'],
      [['lowSideValve'], { chargeSeat: 'may-be-open' }, CLEAR, 'the low side after tank liquid'],
      [CLEAR, { drainSeat: 'may-be-open' }, CLEAR, 'the vehicle after the drain'],
      [CHARGE, { drainSeat: 'may-be-open' }, CHARGE, 'tank liquid after the drain'],
      [['chargeValve'], { oilSeat: 'may-be-open' }, CHARGE, 'tank liquid after the oil bottle'],
      [
        ['lowSideValve', 'vacuumValve'],
        { oilSeat: 'may-be-open' },
        EVACUATE,
        'the pump after the oil bottle',
      ],
      [['chargeValve'], { dyeSeat: 'may-be-open' }, CHARGE, 'tank liquid after the bottle of dye'],
      [
        ['lowSideValve', 'vacuumValve'],
        { dyeSeat: 'may-be-open' },
        EVACUATE,
        'the pump after the bottle of dye',
      ],
    ] as const
  ).map(
    ([falls, memory, wants, title]): Case => ({
      row: 'IL-43',
      title: `${title}: the one shuts before the other opens`,
      wants,
      memory,
      falls,
    }),
  ),
  {
    row: 'IL-43',
    title: 'the recovery path waits for tank liquid to be shut off, and the compressor with it',
    wants: RECOVER,
    memory: { chargeSeat: 'may-be-open' },
    falls: ['lowSideValve', 'recoveryValve', 'compressor'],
  },
  {
    row: 'IL-43',
    title: 'the compressor waits for the drain to be shut, and the vehicle with it',
    wants: RECOVER,
    memory: { drainSeat: 'may-be-open' },
    falls: ['highSideValve', 'lowSideValve', 'compressor'],
  },
  {
    row: 'IL-43',
    title: 'oil waits for the pump to be shut off',
    wants: ADD_OIL,
    bands: VACUUM,
    memory: { vacuumSeat: 'may-be-open' },
    falls: ['oilValve'],
  },
  ...(
    [
      [ADD_DYE, { oilSeat: 'may-be-open' }, 'dye waits for the oil'],
      [ADD_OIL, { dyeSeat: 'may-be-open' }, 'oil waits for the dye'],
      [ADD_DYE, { vacuumSeat: 'may-be-open' }, 'dye waits for the pump'],
      [ADD_DYE, { chargeSeat: 'may-be-open' }, 'dye waits for tank liquid'],
      [ADD_DYE, { recoverySeat: 'may-be-open' }, 'dye waits for the recovery path'],
      [ADD_DYE, { lowSeat: 'may-be-open' }, 'dye waits for the low side'],
      [ADD_DYE, { drainSeat: 'may-be-open' }, 'dye waits for the drain'],
    ] as const
  ).map(
    ([wants, memory, title]): Case => ({
      row: 'IL-43',
      title: `${title} to be shut off`,
      wants,
      bands: VACUUM,
      memory,
      falls: memory === undefined || 'drainSeat' in memory ? wants : [wants[1]],
    }),
  ),
  {
    row: 'IL-43',
    title: 'a pulse beside a running engine waits for the high side',
    wants: ['chargeValve'],
    briefMs: 100,
    memory: { engine: 'running', highSeat: 'may-be-open' },
    falls: ['chargeValve'],
  },
  {
    row: 'IL-43',
    title: 'and the high side for the pulse',
    wants: ['highSideValve'],
    memory: { engine: 'running', chargeSeat: 'may-be-open' },
    falls: ['highSideValve'],
  },
  {
    row: 'IL-33',
    title: 'an engine that nobody asked for shuts the vehicle off',
    wants: RECOVER,
    memory: { engine: 'suspected' },
    falls: ['highSideValve', 'lowSideValve', 'recoveryValve', 'compressor'],
  },
];

/** A row that stands once for each output has one number. */
const belongs = (id: string, row: string): boolean => id === row || id.startsWith(`${row}-`);

describe('Interlock rows', () => {
  for (const each of CASES) {
    test(`${each.row}: ${each.title}`, () => {
      const { permitted, refusals, trip } = judge(each);
      expect(on(permitted)).toEqual(on(want(...each.wants)).filter((output) => !each.falls.includes(output)));
      expect(trip?.reason).toBe(each.trips);
      const rows = trip === undefined ? refusals.map(({ row }) => row) : [trip.row];
      expect(
        rows.some((row) => belongs(row, each.row)),
        String(rows),
      ).toBe(true);
    });
  }

  test('every row has a case here', () => {
    const tested = new Set(CASES.map(({ row }) => row));
    const untested = INTERLOCKS.map(({ id }) => id).filter(
      (id) => !id.startsWith('IL-01-') && ![...tested].some((row) => belongs(id, row)),
    );
    expect(untested).toEqual([]);
  });
});

describe('Negative twins: what is safe is NOT forbidden', () => {
  const twins: readonly (Omit<Case, 'row' | 'falls'> & { readonly row: string })[] = [
    { row: 'IL-01 to IL-06, IL-15 to IL-18', title: 'recovery at working pressure runs', wants: RECOVER },
    {
      row: 'IL-07',
      title: 'a tank without liquid may be filled',
      wants: RECOVER,
      bands: { tankLiquid: 'short' },
    },
    {
      row: 'IL-07',
      title: 'and so may one whose liquid nobody knows, as long as its mass is known',
      wants: RECOVER,
      bands: { tankLiquid: 'unknown', tankTemperature: 'unknown' },
    },
    {
      row: 'IL-22, IL-23, IL-32, IL-39',
      title: 'one short pulse into the manifold, shut off from both hoses, feeds a running engine',
      wants: ['chargeValve'],
      briefMs: 100,
      bands: { chargeDirection: 'reverse' },
      memory: { engine: 'running' },
    },
    {
      row: 'IL-39',
      title: 'a vehicle at rest may stand higher than a running one',
      wants: CHARGE,
      bands: { runningSides: 'strained' },
    },
    { row: 'IL-08', title: 'a cool tank of known mass may be heated', wants: ['tankHeater'] },
    {
      row: 'IL-09 to IL-14',
      title: 'evacuation at low pressure with the pump up to speed runs',
      wants: EVACUATE,
    },
    {
      row: 'IL-10',
      title: 'the pump may be opened at the barometer and in vacuum',
      wants: EVACUATE,
      bands: { manifold: 'vacuum' },
    },
    {
      row: 'IL-10',
      title: 'the pump may be opened to a manifold that stands at the barometer',
      wants: EVACUATE,
      bands: { manifold: 'barometric' },
    },
    {
      row: 'IL-11',
      title: 'one side alone may be evacuated while the other is apart',
      wants: ['highSideValve', 'vacuumValve', 'vacuumPump'],
      memory: { lowPath: 'apart' },
    },
    {
      row: 'IL-16',
      title: 'a running compressor goes on',
      wants: RECOVER,
      memory: { compressor: 'running' },
    },
    {
      row: 'IL-17',
      title: 'air that was suspected keeps only the compressor off',
      wants: EVACUATE,
      memory: { suction: 'steady-at-barometer' },
    },
    {
      row: 'IL-18',
      title: 'above the absolute span a hose that shows pressure is enough',
      wants: RECOVER,
      bands: { manifold: 'unknown', highHose: 'unknown' },
    },
    {
      row: 'IL-18',
      title: 'and so is one that shows it on the high side alone',
      wants: ['highSideValve', 'recoveryValve', 'compressor'],
      bands: { manifold: 'unknown', lowHose: 'unknown' },
    },
    {
      row: 'IL-25',
      title: 'around a refrigerant that does not burn the air may stand',
      wants: RECOVER,
      memory: { fan: 'unproven' },
    },
    { row: 'IL-19 to IL-23', title: 'a charge into the high side runs', wants: CHARGE },
    {
      row: 'IL-45',
      title: 'a short pulse apart from both hoses needs no empty vehicle',
      wants: ['chargeValve'],
      briefMs: 60,
      memory: { given: 'unknown' },
    },
    { row: 'IL-36 to IL-38', title: 'a rested tank that holds air is purged, alone', wants: PURGE },
    {
      row: 'IL-43',
      title: 'what stands open waits for nothing that it does not meet',
      wants: RECOVER,
      memory: { recoverySeat: 'may-be-open', lowSeat: 'may-be-open', highSeat: 'may-be-open' },
    },
    {
      row: 'IL-43',
      title: 'the high side may open and shut around a charge while no engine runs',
      wants: CHARGE,
      memory: { chargeSeat: 'may-be-open', highSeat: 'may-be-open' },
    },
    {
      row: 'IL-22',
      title: 'one short pulse goes into an empty closed manifold',
      wants: ['chargeValve'],
      briefMs: 100,
    },
    {
      row: 'IL-28, IL-29',
      title: 'oil is drained above the atmosphere, with the separator seen',
      wants: DRAIN,
    },
    {
      row: 'IL-30, IL-31',
      title: 'oil is drawn into the evacuated high side',
      wants: ADD_OIL,
      bands: VACUUM,
    },
    {
      row: 'IL-27, IL-30, IL-31, IL-44',
      title: 'dye is drawn into the evacuated high side by itself',
      wants: ADD_DYE,
      bands: VACUUM,
    },
    {
      row: 'IL-35, IL-44',
      title: 'oil that does not fit keeps no dye out, which has an interlock of its own',
      wants: ADD_DYE,
      bands: { ...VACUUM, bottleOil: 'other' },
    },
    {
      row: 'IL-35, IL-44',
      title: 'and dye that does not fit keeps no oil out',
      wants: ADD_OIL,
      bands: { ...VACUUM, bottleDye: 'other' },
    },
    {
      row: 'IL-43',
      title: 'dye that stands open waits for nothing but what it may not meet',
      wants: ADD_DYE,
      bands: VACUUM,
      memory: { dyeSeat: 'may-be-open', highSeat: 'may-be-open' },
    },
    {
      row: 'IL-32',
      title: 'a running engine may suck the hoses dry',
      wants: CLEAR,
      memory: { engine: 'running' },
    },
    {
      row: 'IL-33',
      title: 'a suspected engine stops neither pump nor fan',
      wants: ['vacuumPump', 'fanStop'],
      memory: { engine: 'suspected' },
    },
    {
      row: 'IL-24',
      title: 'a machine without gas alarm may work',
      wants: RECOVER,
      bands: { gasAlarm: 'not-fitted', flammability: 'mild' },
    },
    {
      row: 'IL-25',
      title: 'a flammable refrigerant with moving air may be recovered',
      wants: RECOVER,
      bands: { flammability: 'mild' },
    },
    {
      row: 'IL-26',
      title: 'the fan may rest around a refrigerant that does not burn',
      wants: [...RECOVER, 'fanStop'],
    },
  ];
  for (const each of twins) {
    test(`${each.row}: ${each.title}`, () => {
      const { permitted, trip } = judge({ ...each, falls: [] });
      expect(trip).toBeUndefined();
      expect(on(permitted)).toEqual(on(want(...each.wants)));
    });
  }
});

describe('What a row reads', () => {
  const bandNames = Object.keys(BANDS) as (keyof Bands)[];
  const memoryNames = Object.keys(MEMORY) as (keyof Remembered)[];

  /** Throws on anything that is not declared. */
  const only = <T extends object>(values: T, declared: readonly PropertyKey[]): T =>
    new Proxy(values, {
      get: (target, key) => {
        if (!declared.includes(key)) throw new Error(`read ${String(key)} without declaring it`);
        return Reflect.get(target, key);
      },
    });

  test('no row looks at an output, a band, a memory or a fitting that it does not declare', () => {
    for (const row of INTERLOCKS) {
      const { outputs, bands, memory, fitting } = row.reads;
      const words = [true, false].map((word) =>
        only(Object.fromEntries([...OUTPUTS, 'chargePulse'].map((o) => [o, word])) as never, outputs),
      );
      const fitted = only(ALL_FITTED, fitting);
      const seen = bandNames.flatMap((name) =>
        BANDS[name].map((band) => only({ ...CALM_BANDS, [name]: band } as Bands, bands)),
      );
      const remembered = memoryNames.flatMap((name) =>
        MEMORY[name].map((word) => only({ ...CALM_MEMORY, [name]: word } as Remembered, memory)),
      );
      for (const on of words)
        for (const of of seen)
          for (const memories of remembered) row.judge({ on, bands: of, memory: memories, fitting: fitted });
    }
  });

  test('and one that looks would be found out', () => {
    const [row] = INTERLOCKS.filter(({ id }) => id === 'IL-10');
    const nothing = only({ ...CALM_BANDS }, []);
    const view = {
      on: {} as never,
      bands: nothing,
      memory: CALM_MEMORY,
      fitting: ALL_FITTED,
    };
    expect(() => row!.judge(view)).toThrow('read manifold without declaring it');
  });
});
