// Hazards of the service itself: hoses, bottles, people.
import { type Hazard, MEMORY, ROWS } from './hazard.ts';

export const SERVICE: readonly Hazard[] = [
  {
    hazard: 'Hose comes off in a recovery: air is drawn in',
    cause: 'operator, coupler',
    detection: 'suction at the barometer that does not fall',
    answer: 'trip; the compressor stays off. What spilled before is seen as missing mass only',
    interlocks: ['IL-17'],
    layers: ['controller'],
    status: 'covered',
    proof: [[ROWS, 'a running compressor that draws air trips']],
    twin: [[MEMORY, 'a suction that passes through the barometer is NOT']],
  },
  {
    hazard: 'Hose comes off in a charge: liquid into the open',
    cause: 'operator, coupler',
    detection: 'the tank loses mass and the vehicle does not answer',
    answer: 'the charge valve shuts when the vehicle does not answer; what went meanwhile is lost',
    interlocks: [],
    layers: ['rig', 'controller'],
    status: 'in part',
    proof: [
      [
        'controller/stages/vacuum-and-charge.test.ts',
        'a shut coupler is found by the vehicle that does not answer',
      ],
    ],
    twin: [
      [
        'acceptance/assist.test.ts',
        'a warm vehicle that fills slowly behind its expansion valve is NOT a shut coupler',
      ],
    ],
  },
  {
    hazard: 'Coupler not opened',
    cause: 'operator',
    detection: 'mass stops at what hose and manifold hold; the other side does not answer',
    answer: 'stops and asks for the coupler by name',
    interlocks: [],
    layers: ['controller'],
    status: 'covered',
    proof: [
      [
        'acceptance/situations-of-the-trade.test.ts',
        'a high coupler that stays closed: no more leaves the tank than hose and manifold hold',
      ],
    ],
    twin: [['acceptance/charge-shut.test.ts', 'neither is named']],
  },
  {
    hazard: "Tank's valve shut by hand",
    cause: 'operator, exchange of tanks',
    detection: 'charge: a hose far below the tank; recovery: what is drawn does not arrive',
    answer: 'charge stops and names the supply; recovery trips',
    interlocks: ['IL-42', 'IL-06'],
    layers: ['rig', 'controller'],
    status: 'covered',
    proof: [
      ['controller/stages/vacuum-and-charge.test.ts', 'a hose far below the tank is told as a shut supply'],
      [
        'acceptance/situations-of-the-trade.test.ts',
        'during the charge of a cold vehicle: the supply is named as what stopped it',
      ],
    ],
    twin: [
      [
        'controller/stages/vacuum-and-charge.test.ts',
        'a stall between equal pressures is told as a warm vehicle',
      ],
    ],
  },
  {
    hazard: 'Mains fail at any moment',
    cause: 'mains, fuse',
    detection: 'an open job in the record',
    answer:
      'normally closed valves; the tank is weighed with everything shut before anyone decides; nothing goes on by itself',
    interlocks: ['IL-02', 'IL-16'],
    layers: ['rig', 'firmware', 'controller'],
    status: 'covered',
    proof: [
      [
        'acceptance/power-cuts.test.ts',
        'document and record say what is known and what must come next; without a way back they do not',
      ],
      ['acceptance/situations-of-the-trade.test.ts', 'at every second of a whole job: nothing overcharged'],
    ],
    twin: [['controller/after-cut.test.ts', 'is nothing moved where no path to the tank has been open']],
  },
  {
    hazard: 'Overcharge: overshoot at the cut-off, or a charge that does not end',
    cause: 'dead time, what is in flight, flow misjudged; a mistake in the sequence',
    detection: 'weighed after the valve has shut',
    answer:
      'the last grams come in pulses whose size was learnt; no pulse that would overshoot by more than it helps. Whatever the sequence thinks, no more leaves the tank than the nominal charge and full hoses, and nothing before a vacuum was seen in the vehicle',
    interlocks: ['IL-20', 'IL-45'],
    layers: ['controller'],
    status: 'covered',
    proof: [
      [ROWS, 'nothing more is charged when all that the vehicle may have has left the tank'],
      [ROWS, 'nothing is charged on top of what nobody knows the vehicle to hold'],
      [
        'controller/estimates/charge.test.ts',
        'a pulse that would overshoot by more than it helps is not given',
      ],
      ['controller/stages/vacuum-and-charge.test.ts', 'ends within two grams of what it aimed at'],
    ],
    twin: [
      ['controller/estimates/charge.test.ts', 'shuts so early that flow over dead time lands on the target'],
    ],
  },
  {
    hazard: 'Too little in the vehicle because the hoses keep some',
    cause: 'hoses not cleared',
    detection: 'pressure and temperature of what is in them',
    answer:
      'hoses are sucked dry by the engine or drawn back, and the charge corrected; what stays is stated',
    interlocks: [],
    layers: ['controller'],
    status: 'covered',
    proof: [
      [
        'controller/stages/vacuum-and-charge.test.ts',
        'hoses that no engine sucks dry are drawn back until the vehicle has its charge and they hold vapour',
      ],
      [
        'controller/stages/vacuum-and-charge.test.ts',
        'a vehicle that ended up short is told with its figure',
      ],
    ],
    twin: [
      ['acceptance/engine.test.ts', 'ends with its nominal charge within 5 g: the hoses keep nothing back'],
    ],
  },
  {
    hazard: 'Liquid shut in between two valves bursts what it fills when it warms',
    cause: 'order of the valves',
    detection: 'the order is known; no sensor is needed',
    answer:
      'tank liquid goes into a closed manifold only as one short pulse, and the next needs a way out in between. A relief back to the tank on every segment that can be shut off belongs to the rig',
    interlocks: ['IL-22', 'IL-32'],
    layers: ['rig', 'controller'],
    status: 'covered',
    proof: [
      [ROWS, 'liquid does not go into a dead end'],
      [ROWS, 'a long pulse does not go into the closed manifold'],
      [ROWS, 'a second pulse does not go into a manifold that no way out has relieved'],
    ],
    twin: [[ROWS, 'one short pulse goes into an empty closed manifold']],
  },
  {
    hazard: 'Ice hides water from the hold',
    cause: 'pumped down fast and cold',
    detection: 'pressure that stands at the vapour pressure of ice; rise after warming',
    answer: 'told as boiling water with the advice to warm; never a verdict of tight',
    interlocks: [],
    layers: ['controller'],
    status: 'covered',
    proof: [
      ['controller/estimates/decay.test.ts', 'a flat pressure at the vapour pressure of ice is ice'],
      ['acceptance/situations-of-the-trade.test.ts', 'are seen boiling at their plateau'],
    ],
    twin: [
      ['acceptance/situations-of-the-trade.test.ts', 'and a dry vehicle on the same day is NOT said to boil'],
    ],
  },
  {
    hazard: 'Oil that conducts, or dye nobody allowed, in an electric compressor',
    cause: 'shared oil line, wrong bottle',
    detection: 'ticket and what the bottle is said to hold',
    answer: 'valve stays shut, ticket refused; hoses are flushed before such a vehicle',
    interlocks: ['IL-35', 'IL-44'],
    layers: ['controller'],
    status: 'covered',
    proof: [
      [ROWS, 'oil of another kind than the vehicle has stays in its bottle'],
      [ROWS, "dye that the vehicle's maker does not allow stays out of an electric compressor"],
      ['acceptance/identifier.test.ts', 'has the hoses flushed before they are connected'],
    ],
    twin: [['acceptance/identifier.test.ts', 'a belt-driven one does NOT need it']],
  },
  {
    hazard: 'Oil or refrigerant thrown out of its bottle or drain',
    cause: 'bottle or drain opened to pressure, gas that follows the oil, a bottle that runs dry',
    detection: 'absolute pressure; float; sudden rise',
    answer:
      'bottles only into a vacuum and one at a time, the drain only above the atmosphere with vehicle, tank and pump shut off',
    interlocks: ['IL-27', 'IL-28', 'IL-29', 'IL-30', 'IL-31', 'IL-43'],
    layers: ['rig', 'controller'],
    status: 'covered',
    proof: [
      [ROWS, 'the oil bottle is not opened to pressure'],
      [ROWS, 'the drain is not opened to the vehicle'],
      [ROWS, 'the drain stays shut at or below the atmosphere'],
      [ROWS, 'oil and dye are not drawn at once'],
    ],
    twin: [[ROWS, 'oil is drained above the atmosphere, with the separator seen']],
  },
  {
    hazard: 'Frostbite, eyes: a hose taken off under pressure',
    cause: 'operator',
    detection: 'both sides of the hoses',
    answer:
      '"safe to disconnect" only once the hoses stand no higher than the atmosphere, and withdrawn when pressure comes back. Gloves and goggles are the operator\'s',
    interlocks: [],
    layers: ['rig', 'controller'],
    status: 'covered',
    proof: [
      [
        'controller/unknown.test.ts',
        'hoses are not called safe while pressure is back: they are drawn once more first',
      ],
      ['controller/unknown.test.ts', 'pressure that comes back after the end takes the word back'],
    ],
    twin: [['controller/unknown.test.ts', 'pressure in hoses that were NOT called safe is no news']],
  },
  {
    hazard: 'Engine started in the wrong state',
    cause: 'a question answered by habit',
    detection: 'a high side that rises by itself while the low side falls',
    answer: 'every valve to the vehicle shuts until someone says that it stands still',
    interlocks: ['IL-32', 'IL-33'],
    layers: ['controller'],
    status: 'covered',
    proof: [
      [ROWS, 'an engine that nobody asked for shuts the vehicle off'],
      [ROWS, 'nothing is recovered while the engine runs'],
      ['controller/interlocks/engine-watch.test.ts', 'a high side that rises while the low side falls'],
    ],
    twin: [[ROWS, 'a suspected engine stops neither pump nor fan']],
  },
];
