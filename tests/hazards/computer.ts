// Hazards of the computer, its clock and its line, and of what is typed into it.
import { type Hazard, MEMORY, ROWS } from './hazard.ts';

export const COMPUTER: readonly Hazard[] = [
  {
    hazard: 'The line between computer and rig is cut',
    cause: 'cable, sleep, crash',
    detection: 'readings grow old; the board hears nothing',
    answer:
      'the board drops every output 250 ms later, all in the same pulse of its enable line (every valve is shut by its spring, so that no order is left to keep: a pump or compressor that still turns stands behind shut valves), and takes no word before it is armed anew; readings older than a second are unread; it is told; on a real rig the job pauses, and somebody has to take control again',
    interlocks: ['IL-03', 'IL-04'],
    layers: ['firmware', 'controller'],
    status: 'covered',
    proof: [
      ['sim/link.test.ts', 'drops every output 250 ms later'],
      ['sim/link.test.ts', 'after a drop the board obeys only once every output has been commanded off'],
      ['controller/garbage.test.ts', 'no readings at all is the safe state'],
      [
        'acceptance/link-lost.test.ts',
        'every path is shut within a second, nothing opens while it lasts, the fan turns',
      ],
      [
        'acceptance/link-lost.test.ts',
        'is spoken to so that the board obeys, and the job goes on to its end',
      ],
      ['hardware/safe-state.test.ts', 'at most 250 ms after the last whole line: 300 of 300'],
      [
        'rig/line-pulled.test.ts',
        'off within 250 ms, told, and nothing comes back until the operator goes on',
      ],
    ],
    twin: [
      ['sim/link.test.ts', 'a gap that a command ends within 250 ms drops nothing'],
      ['acceptance/link-lost.test.ts', 'IS seen by the same look'],
      ['hardware/safe-state.test.ts', 'a board that waits 255 ms is found out'],
    ],
  },
  {
    hazard: 'Time jumps or stands still',
    cause: 'laptop sleeps, debugger, wrong clock',
    detection: 'time since the last scan',
    answer: 'everything off for that scan',
    interlocks: ['IL-03'],
    layers: ['controller'],
    status: 'covered',
    proof: [
      [ROWS, 'a clock that jumped switches everything off'],
      [MEMORY, 'a scan that comes late or runs back is a jump'],
    ],
    twin: [['controller/halts.test.ts', 'an hour of pause costs no deadline']],
  },
  {
    hazard: 'Frames that are old or come twice',
    cause: 'buffers',
    detection: 'the time of each reading; the number and the session of each line',
    answer:
      'a reading older than a second, or from the future, is unread; one that was seen before changes nothing; the board obeys a line whose number has risen, in the session that it has given itself, and no other',
    interlocks: [],
    layers: ['firmware', 'controller'],
    status: 'covered',
    proof: [
      ['controller/estimates/scale.test.ts', 'a reading that was seen before changes nothing'],
      ['hardware/hostile-lines.test.ts', 'of 9000 truncated, replayed and random lines none is obeyed'],
    ],
    twin: [
      ['controller/halts.test.ts', 'do NOT come from a sensor that is merely missing for a scan'],
      ['hardware/hostile-lines.test.ts', 'the same lines unspoilt are obeyed'],
    ],
  },
  {
    hazard: 'A state without exit, or a controller that hangs',
    cause: 'a mistake in the sequence',
    detection: 'every stage has a limit of time; the chart is searched for dead ends',
    answer:
      "timeout, abort, pause and trip lead out of every stage; a fault of the controller itself trips. A hang of the computer is the board's: see the cut line; a hang of the board is its watchdog's",
    interlocks: ['IL-02'],
    layers: ['firmware', 'controller'],
    status: 'covered',
    proof: [
      ['controller/halts.test.ts', 'nothing that never comes can keep it for ever'],
      ['controller/garbage.test.ts', 'a fault of the controller itself trips and says so'],
      ['properties/planted-bugs.test.ts', 'a stage that wishes every output on gets none that may not be'],
      ['properties/planted-bugs.test.ts', 'one that never leaves what it does does no harm'],
      ['properties/planted-bugs.test.ts', 'a sequence that ignores a trip commands nothing after it'],
      ['sequence/page.test.ts', 'reach every stage from the first, and from every stage an end'],
      ['hardware/safe-state.test.ts', 'off within 150 ms'],
    ],
    twin: [
      ['controller/halts.test.ts', 'an hour of pause costs no deadline'],
      ['hardware/safe-state.test.ts', 'a program that runs leaves its outputs on so long'],
    ],
  },
  {
    hazard: 'An emergency that nobody can reach the computer in',
    cause: 'anything',
    detection: 'the emergency stop, hard-wired, and read',
    answer:
      'cuts the supply of every output but the fan; trips; no word is taken until it is released and reset',
    interlocks: ['IL-04', 'IL-02'],
    layers: ['rig', 'firmware', 'controller'],
    status: 'covered',
    proof: [
      [ROWS, 'the emergency stop trips'],
      [ROWS, 'an unknown emergency stop keeps everything off without a trip'],
      ['controller/halts.test.ts', 'the emergency stop trips at once'],
    ],
    twin: [['controller/halts.test.ts', 'do NOT come from a sensor that is merely missing for a scan']],
  },
  {
    hazard: 'An output that is not wired is switched',
    cause: 'equipment file and machine differ',
    detection: 'the equipment file; a real machine must be commissioned',
    answer: 'stays off',
    interlocks: ['IL-01'],
    layers: ['controller'],
    status: 'covered',
    proof: [[ROWS, 'an output that is not fitted stays off']],
    twin: [['controller/by-hand-outputs.test.ts', 'that nothing forbids is permitted']],
  },
  {
    hazard: 'Units or scale factors mistaken',
    cause: 'configuration',
    detection:
      'ranges of every figure; tank against saturation and against its own limits at the start; commissioning, against references',
    answer:
      'refused by name with the range; a factor within its range is found by commissioning, without which no real rig is driven',
    interlocks: [],
    layers: ['controller'],
    status: 'covered',
    proof: [
      ['controller/plan.test.ts', 'refuses figures that are no figures'],
      [
        'app/cli/rig-commands.test.ts',
        'a rig that nobody has commissioned is not driven: every line that is missing is named',
      ],
    ],
    twin: [
      ['controller/plan.test.ts', 'names every blocker at once'],
      ['rig/job.test.ts', 'the machine is driven in real time until the job ends'],
    ],
  },
];
