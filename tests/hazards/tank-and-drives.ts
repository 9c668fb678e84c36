// Hazards of the tank, of the two drives and of what burns.
import { ARRIVAL, type Hazard, MEMORY, ROWS } from './hazard.ts';

export const TANK_AND_DRIVES: readonly Hazard[] = [
  {
    hazard: 'Storage tank overfilled: liquid-full when it warms, it bursts or blows off',
    cause: 'wrong tare or capacity, scale drift, two conventions of the fill limit mixed',
    detection: 'net mass against the limit, by the heavier of what the platform shows and what it should',
    answer:
      'nothing flows in any more; charging stays allowed; no word of the operator lifts it. A float switch belongs to the rig',
    interlocks: ['IL-07'],
    layers: ['rig', 'controller'],
    status: 'covered',
    proof: [
      [ROWS, 'a full tank takes nothing more'],
      [ROWS, 'a tank of unknown mass takes nothing'],
      [MEMORY, 'a platform that is lifted makes no room in the tank'],
    ],
    twin: [[ROWS, 'recovery at working pressure runs']],
  },
  {
    hazard: 'Discharge over-pressure',
    cause: 'tank valve shut by hand, blocked filter, fan off, air in the tank',
    detection: 'tank pressure against 0.9 of the cut-out; mass drawn against mass that arrives',
    answer: 'trip before the hard-wired switch acts; the switch itself is part of the rig and latches',
    interlocks: ['IL-05', 'IL-06', 'IL-42'],
    layers: ['rig', 'controller'],
    status: 'covered',
    proof: [
      [ROWS, 'tank pressure near the cut-out trips'],
      [ROWS, 'a compressor whose gas does not arrive in the tank trips'],
      ['acceptance/situations-of-the-trade.test.ts', 'during a recovery: the compressor is cut'],
    ],
    twin: [['acceptance/delivery.test.ts', 'a stopped fan']],
  },
  {
    hazard: 'Tank heated too far',
    cause: 'relay welded, sensor off the surface, nearly empty tank',
    detection: 'tank temperature and pressure, liquid around the heater',
    answer:
      'heater off when hot, unread, or with too little liquid. A welded relay is beyond the controller: a thermal fuse and a contactor in series belong to the rig',
    interlocks: ['IL-08', 'IL-05', 'IL-06'],
    layers: ['rig', 'controller'],
    status: 'in part',
    proof: [
      [ROWS, 'a hot tank is not heated'],
      [ROWS, 'a nearly empty tank is not heated'],
      [ROWS, 'a tank of unknown temperature is not heated'],
    ],
    twin: [[ROWS, 'a cool tank of known mass may be heated']],
  },
  {
    hazard: 'Mildly flammable refrigerant in cabinet or room',
    cause: 'leak of a hose or seal, exhaust of the pump, purge',
    detection: 'gas alarm and flow of the fan; mass that is lost with every valve shut',
    answer:
      'everything off and the fan on, which is off only while its relay is energised; nothing starts before air has moved for two seconds',
    interlocks: ['IL-24', 'IL-25', 'IL-26', 'IL-41'],
    layers: ['rig', 'firmware', 'controller'],
    status: 'covered',
    proof: [
      [ROWS, 'the gas alarm trips'],
      [ROWS, 'an unknown gas alarm stops a flammable refrigerant'],
      [ROWS, 'a flammable refrigerant needs moving air'],
      [ROWS, 'the fan is not stopped around a flammable refrigerant'],
      ['acceptance/cabinet-leak.test.ts', 'the gas never comes to a quarter of its limit'],
    ],
    twin: [
      [ROWS, 'a flammable refrigerant with moving air may be recovered'],
      ['acceptance/cabinet-leak.test.ts', 'does NOT trip the gas alarm'],
    ],
  },
  {
    hazard: 'Air and refrigerant compressed together, which can burn',
    cause:
      'recovery from an open vehicle, leak test with air, a valve to the room that does not shut while the compressor draws',
    detection:
      'a suction that stands at the barometer for a minute with no flow that only vapour could make; a tank that rises by 40 kPa within two minutes and gains less than any refrigerant would weigh',
    answer: 'trip; the compressor does not start on air; a vehicle full of air is never recovered',
    interlocks: ['IL-17'],
    layers: ['controller'],
    status: 'covered',
    proof: [
      [ROWS, 'a running compressor that draws air trips'],
      [ROWS, 'a compressor does not start on air'],
      [ROWS, 'a compressor that brings air into the tank trips'],
      [ARRIVAL, 'is air when it makes 40 kPa'],
      ['acceptance/air-drawn-in.test.ts', 'is stopped before 10 g of air are in the tank'],
      ['acceptance/situations.test.ts', 'a vehicle full of air is never recovered into the tank'],
    ],
    twin: [
      [MEMORY, 'a suction that passes through the barometer is NOT'],
      [MEMORY, 'the same with a flow that air cannot make is NOT'],
      [ARRIVAL, 'is NOT air as vapour that does not condense'],
      [ARRIVAL, 'is NOT air in a cold tank that warms'],
      ['acceptance/air-drawn-in.test.ts', 'hot or cold, full or almost empty is NOT air'],
    ],
  },
  {
    hazard: 'Air in the tank',
    cause: 'recovery from an open vehicle, hoses not cleared, refill',
    detection: 'tank pressure above saturation by more than the sensors may be off, after two hours of rest',
    answer: 'told; a tank full of air is refused; let off only rested, alone, counted, and for 30 s in all',
    interlocks: ['IL-36', 'IL-37', 'IL-38'],
    layers: ['controller'],
    status: 'covered',
    proof: [
      [ROWS, 'nothing is vented out of a tank that was stirred not long ago'],
      [ROWS, 'a purge ends when its time is spent'],
      ['acceptance/air-purge.test.ts', 'are NOT let off straight after a recovery'],
    ],
    twin: [[ROWS, 'a rested tank that holds air is purged, alone']],
  },
  {
    hazard: 'Another tank stands on the scale',
    cause: 'exchange of tanks',
    detection:
      'mass against what the last job left in it; pressure against saturation of what it should hold',
    answer:
      'refused before anything moves where it shows; a tank that weighs and stands as the entered one should cannot be told from it',
    interlocks: [],
    layers: ['controller'],
    status: 'in part',
    proof: [
      ['controller/tank-known.test.ts', 'is another one when %d kg have come'],
      ['controller/tank-known.test.ts', 'is none of this refrigerant: $what'],
    ],
    twin: [
      [
        'acceptance/swapped-and-wrong.test.ts',
        'is NOT suspected of a scale that has drifted since, cold or warm (seed %i)',
      ],
    ],
  },
  {
    hazard: 'Refrigerants mixed in the machine',
    cause: 'shared hoses and filters, a contaminated vehicle',
    detection: 'identifier before the hoses are opened; pressure against saturation',
    answer:
      'a contaminated vehicle goes only into a labelled cylinder, out of which nothing is charged; a machine that took it must be cleaned first. Traces below what the identifier tells stay unseen',
    interlocks: ['IL-34'],
    layers: ['controller'],
    status: 'covered',
    proof: [
      [ROWS, 'nothing is charged out of a cylinder for contaminated refrigerant'],
      ['acceptance/identifier.test.ts', "is refused by the machine's own tank"],
      ['acceptance/identifier.test.ts', 'does NOT get into a machine that has not been cleaned since'],
    ],
    twin: [['acceptance/identifier.test.ts', 'a clean vehicle passes without a word']],
  },
  {
    hazard: 'Pump stops behind an open valve: its oil is sucked into the vehicle',
    cause: 'mains lost, overload, sequence',
    detection: 'commands alone: a pump that stands although commanded has no feedback on this rig',
    answer:
      'the valve opens only to a pump that has run three seconds and shuts with it; normally closed valve and a check valve belong to the rig. After a power cut the vehicle is evacuated anew',
    interlocks: ['IL-09'],
    layers: ['rig', 'controller'],
    status: 'in part',
    proof: [
      [ROWS, 'the vacuum valve stays shut while the pump comes up to speed'],
      [ROWS, 'the vacuum valve shuts when the pump is not wanted'],
    ],
    twin: [[ROWS, 'evacuation at low pressure with the pump up to speed runs']],
  },
  {
    hazard: 'Pump opened to pressure or liquid: its oil is blown out, refrigerant vented',
    cause: 'sequence, leaking valve',
    detection:
      'absolute pressure of the manifold, unknown counting as pressure; what was charged since it was last low',
    answer: 'the valve stays shut or shuts; a pressure switch in series with its coil belongs to the rig',
    interlocks: ['IL-10', 'IL-11', 'IL-12', 'IL-13', 'IL-14', 'IL-43'],
    layers: ['rig', 'controller'],
    status: 'covered',
    proof: [
      [ROWS, 'the pump is not opened to pressure'],
      [ROWS, 'the pump is not opened to an unknown pressure'],
      [ROWS, 'a vehicle that the absolute sensor has not seen is not opened to the pump'],
      [ROWS, 'the pump is not opened to a manifold with liquid'],
    ],
    twin: [[ROWS, 'the pump may be opened at the barometer and in vacuum']],
  },
  {
    hazard: 'Liquid in the compressor',
    cause: 'liquid drawn, cold accumulator, tank liquid let in',
    detection: 'none of its own: there is no thermometer at the suction',
    answer:
      'tank liquid never meets the recovery path, recovery begins by short openings, and the separator lies in between. A hot, noisy or labouring compressor is not heard',
    interlocks: ['IL-19', 'IL-43'],
    layers: ['rig', 'controller'],
    status: 'in part',
    proof: [
      [ROWS, 'charge and recovery are never open together'],
      [ROWS, 'the recovery path waits for tank liquid to be shut off, and the compressor with it'],
    ],
    twin: [[ROWS, 'a charge into the high side runs']],
  },
  {
    hazard: 'Compressor started against head, against a shut suction, or run dry',
    cause: 'quick restart, valve order, nothing left to draw',
    detection: 'time since it stopped; manifold and hose pressures',
    answer:
      'waits its minimum time, which also a controller that has just started does; stops below its floor',
    interlocks: ['IL-15', 'IL-16', 'IL-18'],
    layers: ['rig', 'controller'],
    status: 'covered',
    proof: [
      [ROWS, 'the compressor rests before it starts again'],
      [ROWS, 'the compressor does not run against a shut suction'],
      [ROWS, 'the compressor does not draw a vacuum'],
      [
        MEMORY,
        'a controller that has just started does not know what ran before: the compressor must rest first',
      ],
    ],
    twin: [[ROWS, 'a running compressor goes on']],
  },
  {
    hazard: 'Oil carried over in a fast draw',
    cause: 'fast blow-down, foaming',
    detection: 'what the drain gives, read by the operator',
    answer: 'recovery begins by short openings; a flood of oil is told with its figure',
    interlocks: [],
    layers: ['controller'],
    status: 'covered',
    proof: [['controller/stages/oil.test.ts', 'a flood of oil is told with its figure']],
    twin: [['controller/stages/oil.test.ts', 'lets out what the separator holds and shuts when gas follows']],
  },
];
