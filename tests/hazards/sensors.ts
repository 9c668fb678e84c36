// Hazards of sensors that cannot be trusted, and of outputs that do not do what they are told.
import { type Hazard, MEMORY, ROWS } from './hazard.ts';

export const SENSORS_AND_OUTPUTS: readonly Hazard[] = [
  {
    hazard: 'Scale bumped or leaned on',
    cause: 'person, hose tugged, cart moved',
    detection: 'steps that no open valve explains, or faster than it can flow',
    answer:
      'the charge valve shuts; the step is taken for an offset and not for refrigerant; the doubt grows',
    interlocks: ['IL-20', 'IL-37'],
    layers: ['controller'],
    status: 'covered',
    proof: [
      [ROWS, 'nothing is charged by a doubtful scale'],
      [
        'controller/estimates/scale.test.ts',
        'someone leaning on the machine for eight seconds is not refrigerant',
      ],
      [
        'acceptance/situations-of-the-trade.test.ts',
        'someone leans on the cart for eight seconds while it charges',
      ],
      [
        'acceptance/cold-coil.test.ts',
        'who knocks against it as the cold coil bursts into the tank takes nothing off what was recovered',
      ],
    ],
    twin: [
      ['controller/estimates/scale.test.ts', 'a valve that opens at full flow within a scan is no bump'],
    ],
  },
  {
    hazard: 'Scale stands still',
    cause: 'converter hangs, cable, mechanical stop touches',
    detection: 'the same code for seconds',
    answer: 'counts as unread: nothing is charged, and nothing flows into a tank of unknown mass',
    interlocks: ['IL-07', 'IL-20'],
    layers: ['controller'],
    status: 'covered',
    proof: [
      ['controller/estimates/scale.test.ts', 'the same code for seconds is a dead converter'],
      [
        'controller/unknown.test.ts',
        'one that stands still stops recovery long before the tank could be overfilled',
      ],
    ],
    twin: [['controller/estimates/scale.test.ts', 'follows a constant flow: mass within a gram']],
  },
  {
    hazard: 'Scale open, shorted or at the end of its range',
    cause: 'wire',
    detection: 'the rig gives a reason instead of a value; a code at the rail is none',
    answer: 'as above: unread is never permission',
    interlocks: ['IL-07', 'IL-20', 'IL-21', 'IL-37'],
    layers: ['firmware', 'controller'],
    status: 'covered',
    proof: [
      ['controller/unknown.test.ts', 'one that falls silent is not trusted'],
      [ROWS, 'a tank of unknown mass takes nothing'],
      [ROWS, 'nothing is charged from a tank that nobody knows the liquid of'],
    ],
    twin: [[ROWS, 'a charge into the high side runs']],
  },
  {
    hazard: 'Scale drifts or creeps',
    cause: 'new load, temperature',
    detection:
      'zero flow that is no zero; kelvins and minutes since the last weighing; two minutes and more with nothing flowing',
    answer:
      'weighed anew at each phase boundary; the stated doubt grows with both; a zero that runs away is told and doubted over the time between two weighings. One that begins after the last long rest is not seen',
    interlocks: [],
    layers: ['controller'],
    status: 'covered',
    proof: [
      ['controller/estimates/small.test.ts', 'every bump and every kelvin widens the doubt'],
      ['acceptance/situations-of-the-trade.test.ts', 'a scale that creeps by 8 g of 500 within half an hour'],
      ['controller/estimates/zero-drift.test.ts', 'that drifts by %d g a minute is found, as fast as that'],
    ],
    twin: [['controller/interlocks/leak-through.test.ts', 'is NOT judged while anything is open']],
  },
  {
    hazard: 'Single samples of the scale are nonsense',
    cause: 'converter of a hobbyist, relays',
    detection: 'median of five',
    answer: 'left out; a scale that keeps moving ends the charge rather than guesses',
    interlocks: ['IL-20'],
    layers: ['controller'],
    status: 'covered',
    proof: [
      ['controller/estimates/scale.test.ts', 'a single spike of kilograms leaves no mark'],
      [
        'controller/stages/vacuum-and-charge.test.ts',
        'a scale that keeps moving ends the charge rather than guesses',
      ],
    ],
    twin: [['controller/estimates/scale.test.ts', 'follows a constant flow: mass within a gram']],
  },
  {
    hazard: 'Wire of a pressure sensor open: near vacuum by the signal',
    cause: 'cable',
    detection: 'below the lower end of a ratiometric signal',
    answer: 'unknown, which is neither vacuum nor permission',
    interlocks: ['IL-06', 'IL-10', 'IL-18', 'IL-23', 'IL-28', 'IL-30', 'IL-39'],
    layers: ['firmware', 'controller'],
    status: 'covered',
    proof: [
      ['controller/stages/vacuum-and-charge.test.ts', 'an open-circuit pressure sensor is unknown'],
      [ROWS, 'an unknown tank pressure stops recovery'],
      [ROWS, 'an unknown direction is no permission'],
      [
        'controller/interlocks/every-row.test.ts',
        'forbids at an unknown reading whatever some reading makes it forbid',
      ],
    ],
    twin: [[ROWS, 'above the absolute span a hose that shows pressure is enough']],
  },
  {
    hazard: 'Pressure sensor shorted or beyond its range',
    cause: 'cable, damage, more pressure than it can show',
    detection: 'above the upper end of the signal',
    answer: 'unknown; an absolute sensor at its upper end counts as pressure',
    interlocks: ['IL-10', 'IL-28'],
    layers: ['firmware', 'controller'],
    status: 'in part',
    proof: [
      [MEMORY, 'tank pressure is high before its sensor runs out of range'],
      ['controller/interlocks/engine-watch.test.ts', 'beyond the span it is unknown'],
    ],
    twin: [[MEMORY, 'the manifold is classed against the compressor floor']],
  },
  {
    hazard: 'Pressure sensor keeps showing what it showed',
    cause: 'blocked port, frozen firmware',
    detection: 'the side of a valve that was opened does not answer; sides that should be joined stay apart',
    answer: 'told, and the job goes on only where another sensor shows the same; stale values are unread',
    interlocks: [],
    layers: ['controller'],
    status: 'in part',
    proof: [['controller/stages/recovery.test.ts', 'sides that stay apart are told after a minute']],
    twin: [
      [
        'controller/stages/engine.test.ts',
        'sides that do not part say that the compressor does not turn; the job ends in order',
      ],
    ],
  },
  {
    hazard: 'Pressure sensor off by more than its class',
    cause: 'age, temperature',
    detection: 'joined sides that differ; a vented hose that is not at the barometer',
    answer:
      'every limit that a sensor must hold allows three standard deviations of its class; sides that differ by more are told',
    interlocks: ['IL-18', 'IL-23', 'IL-28'],
    layers: ['controller'],
    status: 'in part',
    proof: [
      [MEMORY, 'a hose above the tank by more than the sensors may be off is a reverse flow'],
      ['controller/estimates/performance.test.ts', 'what the gauges may be off by is allowed for'],
    ],
    twin: [[MEMORY, 'is some above one standard deviation of what its sensors are off']],
  },
  {
    hazard: 'High and low side exchanged',
    cause: 'wiring, plumbing',
    detection:
      'a short opening of the high-side valve before the recovery: the sensor of that side must answer',
    answer:
      'the job stops before anything is recovered. A vehicle with one port, one without pressure, and hoses put on the wrong ports are not told so',
    interlocks: [],
    layers: ['controller'],
    status: 'in part',
    proof: [
      [
        'acceptance/swapped-and-wrong.test.ts',
        'are found by a pulse of the high-side valve: $refrigerant, $chargeG g at $ambientC °C, $equipment',
      ],
    ],
    twin: [
      [
        'acceptance/swapped-and-wrong.test.ts',
        'are NOT suspected where each sits in its place: $refrigerant, $chargeG g at $ambientC °C, $equipment',
      ],
    ],
  },
  {
    hazard: 'Thermal vacuum sensor reads heavy vapour as something else',
    cause: 'its principle; oil on its wire',
    detection: 'compared with the absolute sensor where both see',
    answer: 'never the only criterion; its doubt is part of every verdict',
    interlocks: [],
    layers: ['controller'],
    status: 'covered',
    proof: [
      [
        'controller/estimates/decay.test.ts',
        'two kinds of sensor tell water vapour from air and refrigerant by their rises',
      ],
      [
        'acceptance/situations.test.ts',
        'without a vacuum sensor at the vehicle no better vacuum is claimed than the manifold sensor can tell',
      ],
    ],
    twin: [['controller/estimates/decay.test.ts', 'the four shapes are told apart']],
  },
  {
    hazard: 'Vacuum judged by a gauge at altitude',
    cause: 'gauge transducers, weather, typed figures',
    detection: 'barometer read, or altitude typed; absolute sensor',
    answer: 'all vacuum is judged in absolute pressure; without a barometer the strongest weather is assumed',
    interlocks: ['IL-28'],
    layers: ['controller'],
    status: 'covered',
    proof: [
      ['acceptance/situations-of-the-trade.test.ts', 'at 2000 m the vacuum is judged as at the sea'],
      ['controller/interlocks/engine-watch.test.ts', 'without a barometer the strongest weather is assumed'],
    ],
    twin: [['controller/stages/repair.test.ts', 'above the atmosphere of a high mountain']],
  },
  {
    hazard: 'Relay or contactor welded: an output stays on',
    cause: 'inrush, no snubber',
    detection:
      'pressure or mass moves though everything is off; a tank that pours or seeps though nothing leads out of it, whatever else is open; within a second and a half while the engine sucks the hoses dry; a closed manifold that gives its pulses on to the separator or to a hose, or gives back more than it holds',
    answer:
      'a trip where a valve that stays open shows itself; the controller cannot switch it off. A master contactor that the emergency stop and the board drop belongs to the rig',
    interlocks: ['IL-40', 'IL-41'],
    layers: ['rig', 'controller'],
    status: 'in part',
    proof: [
      [ROWS, 'a valve that leaks through shuts everything between tank and vehicle'],
      ['controller/interlocks/pour-watch.test.ts', 'is seen within ten seconds: %d g/s'],
      ['controller/interlocks/pour-watch.test.ts', 'is seen within twenty seconds: %d g/s'],
      ['controller/interlocks/pour-watch.test.ts', 'is seen within 40 s: %d g/s'],
      ['acceptance/open-valves.test.ts', 'is found by the pulses that raise the separator'],
      [
        'acceptance/open-valves.test.ts',
        'is found by its hose, which follows the pulses that raise the separator',
      ],
      ['acceptance/open-valves.test.ts', 'is found by what the manifold alone gives back'],
      ['controller/stages/clear-hoses.test.ts', 'has them shut within a second and a half'],
    ],
    twin: [
      ['controller/interlocks/leak-through.test.ts', 'is NOT judged while a valve is open'],
      ['controller/interlocks/pour-watch.test.ts', 'a hand that eases off in three seconds'],
      ['controller/interlocks/pour-watch.test.ts', 'a hand that takes 60 g off within a few seconds'],
      ['acceptance/open-valves.test.ts', 'Nothing of it is said where every valve shuts'],
      ['controller/stages/drain-seats.test.ts', 'is not accused by one pulse'],
      ['controller/stages/clear-hoses.test.ts', 'Nothing is said of'],
    ],
  },
  {
    hazard: 'A shut valve leaks through',
    cause: 'dirt on its seat',
    detection:
      'pressure that comes into a closed manifold; a tank that loses mass with every valve shut: faster than the worst scale creeps after a charge and than dew dries off while the tank is heated; what is slower than that shows in the drawn manifold after the charge',
    answer:
      'trip within a minute; the second valve on the path, the hose valve, is shut, and the hand valve of the tank is asked for',
    interlocks: ['IL-40', 'IL-41'],
    layers: ['rig', 'controller'],
    status: 'covered',
    proof: [
      ['controller/interlocks/leak-through.test.ts', 'that rises as 0.05 g/s make it is seen within seconds'],
      ['controller/interlocks/leak-through.test.ts', 'that loses 0.05 g/s is seen within a minute'],
      ['controller/interlocks/leak-through.test.ts', 'on a scale far beyond its class is NOT called losing'],
      ['controller/interlocks/leak-through.test.ts', 'by the dew that its heater dries off'],
    ],
    twin: [['acceptance/leak-through.test.ts', 'Nothing of it is said']],
  },
  {
    hazard:
      'The vacuum valve stands open though it is told to shut: what comes into the manifold is vented through the pump',
    cause: 'dirt on its seat, a welded relay; an empty bottle behind its open valve does the same',
    detection:
      'a closed manifold that comes to the pressure of the room within seconds, or is drawn down by a pump that runs; the same with a hose joined to it that falls there; a pumped vacuum that comes back; a vehicle that is no vacuum any more before it is charged; drawn hoses that come to the pressure of the room; a vehicle whose two sides fall together while it is charged',
    answer:
      'trip, and nothing is let into the manifold any more; no charge without a vacuum. What an open path passes until the manifold is next closed is lost',
    interlocks: ['IL-46', 'IL-45'],
    layers: ['rig', 'controller'],
    status: 'in part',
    proof: [
      [ROWS, 'a manifold that is open to the room shuts everything between tank and vehicle'],
      ['controller/interlocks/vent-watch.test.ts', 'comes to the pressure of the room within seconds'],
      ['controller/interlocks/vent-watch.test.ts', 'falls to the pressure of the room within a minute'],
      ['acceptance/open-valves.test.ts', 'is found by the pressure that they fall to'],
      ['acceptance/open-valves.test.ts', 'is found by both its sides, which fall together'],
      ['acceptance/open-valves.test.ts', 'lets air in, which is left there'],
      ['controller/interlocks/given.test.ts', 'stands above a vacuum though nothing was given'],
      ['controller/stages/charge-look.test.ts', 'a vehicle that has lost its vacuum ends the job'],
      ['controller/stages/evacuate-looks.test.ts', 'laid to the machine where the closed manifold rises on'],
      ['acceptance/vacuum-valve.test.ts', 'is found when the manifold is next closed'],
    ],
    twin: [
      ['controller/interlocks/vent-watch.test.ts', 'when it came there before it was closed'],
      [
        'controller/interlocks/vent-watch.test.ts',
        'cold liquid in the vehicle may boil at just that pressure',
      ],
      ['controller/stages/charge-look.test.ts', 'one that has NOT lost it is charged'],
      ['controller/stages/evacuate-looks.test.ts', 'NOT again where it is tight'],
      ['acceptance/vacuum-valve.test.ts', 'and NOT where it shuts'],
      ['acceptance/open-valves.test.ts', 'Nothing of it is said where every valve shuts'],
    ],
  },
  {
    hazard: 'A valve does not open',
    cause: 'coil, low voltage, the rig itself counted down',
    detection: 'pressure or mass that should move does not',
    answer: 'told after its time; no state waits for ever',
    interlocks: [],
    layers: ['controller'],
    status: 'covered',
    proof: [
      [
        'controller/unknown.test.ts',
        'a countdown that has run out does not leave the charge waiting for a valve that stays shut',
      ],
      ['acceptance/assist.test.ts', 'a heater that does not heat is told and switched off within minutes'],
    ],
    twin: [
      [
        'acceptance/assist.test.ts',
        'a warm vehicle that fills slowly behind its expansion valve is NOT a shut coupler',
      ],
    ],
  },
  {
    hazard: 'Flow back through a solenoid that lifts',
    cause: 'a high side above the tank, engine running',
    detection: 'high side against tank by more than both sensors may be off; who said that the engine runs',
    answer:
      'the charge valve stays shut; with the engine running no path leads to tank or pump. A check valve belongs to the rig',
    interlocks: ['IL-23', 'IL-32', 'IL-39'],
    layers: ['rig', 'controller'],
    status: 'covered',
    proof: [
      [ROWS, 'a hotter high side does not push back into the tank'],
      [ROWS, 'nothing is charged while the engine runs'],
      [ROWS, 'a running vehicle is not fed while its suction or its high side stands at the limit'],
    ],
    twin: [[ROWS, 'one short pulse into the manifold, shut off from both hoses, feeds a running engine']],
  },
];
