// Words of commissioning, and of the line to a board.
import type { BoardState, BoardTrip } from '../../../../hardware/protocol.ts';

const STATES: { readonly [S in BoardState]: string } = {
  idle: 'not armed',
  ready: 'ready',
  armed: 'armed',
  tripped: 'tripped',
};
const TRIPS: { readonly [T in BoardTrip]: string } = {
  none: '',
  'link-lost': 'it heard nothing for too long',
  'emergency-stop': 'the emergency stop was pressed',
  'high-pressure': 'the high-pressure switch opened',
  'output-chain': 'its output registers do not answer',
  watchdog: 'its program hung',
};

export const COMMISSIONING = {
  commissioning: {
    title: 'Commissioning',
    lead: 'Tests and measurements that make a rig fit to be driven, in an order that begins with what stops it. The machine must be empty of refrigerant. Nothing is on while something is asked, and everything goes off when this page is lost.',
    ready: 'Every line stands: the rig may be driven.',
    notReady: 'The rig may not be driven until every line stands.',
    notYet: 'The rig is not commissioned, or is being commissioned. See the view Rig tests.',
    begin: 'Go on with what is missing',
    again: 'Do it again',
    onlyThis: 'Do this line',
    optional: 'only when it is wanted',
    lines: 'Lines',
    why: 'Why',
    back: 'Question before',
    skip: 'Leave this line',
    quit: 'Stop, everything off',
    said: 'What was said',
    works: 'It works; nothing is asked.',
    waits: 'It waits for the board.',
    done: 'Done',
    yes: 'Yes',
    no: 'No',
    send: 'Enter',
    answer: 'Answer',
    none: 'none of these',
    mayBe: 'Units and bounds',
    board: 'Board',
    linked: 'answers',
    notLinked: 'does not answer',
    states: STATES,
    trips: TRIPS,
    on: 'On',
    nothingOn: 'nothing',
    manifold: 'Manifold',
    scale: 'Scale, counts',
    marks: {
      begins: 'Line',
      tell: '',
      problem: 'Not understood',
      passed: 'Passed',
      failed: 'Failed',
      'held-up': 'Not run',
    },
    standing: {
      standing: 'stands until',
      missing: 'missing',
      failed: 'failed on',
      expired: 'expired on',
    },
  },
} as const;
