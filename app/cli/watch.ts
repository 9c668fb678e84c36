// What commands that run a job can have written down or sent while it runs: a trace, a recording, and telemetry.
import { MqttLine } from '../bench/mqtt.ts';
import type { Called } from '../bench/recording.ts';
import { Telemetry } from '../bench/telemetry.ts';
import type { Observer, ScanLoop } from '../run/loop.ts';
import { tracer } from '../run/trace.ts';
import { InputError } from './command.ts';
import { recordingFile } from './recording-file.ts';
import { WaitingFile } from './waiting-file.ts';
import type { Part } from './watch-part.ts';

export const WATCH_OPTIONS = {
  trace: { type: 'string' },
  record: { type: 'string' },
  mqtt: { type: 'string' },
  'mqtt-topic': { type: 'string' },
} as const;

export const WATCH_HELP = `  --trace FILE   write a CSV row for every second and every change of stage
  --record FILE  write down everything that every scan takes and answers, for replay and export; packed when the name
                 ends in .gz. The job never waits for it
  --mqtt URL     tell an MQTT 5 broker, such as mqtt://localhost:1883, how the job goes; it takes no commands from there
  --mqtt-topic T what its topics begin with (default coldbench/bench)
`;

/** Options of the commands that name a file which the job needs, or writes otherwise. */
const OTHERS = ['records', 'file', 'script'] as const;

const DEFAULT_TOPIC = 'coldbench/bench';

const TRACE = { option: '--trace', what: 'trace' };
const RECORDING = { option: '--record', what: 'recording' };

function tracePart(path: string, tell: (text: string) => void): Part {
  const file = new WaitingFile(path, TRACE, tell);
  return {
    look: tracer((text) => file.write(text)),
    begin: () => {},
    settle: () => file.settle(),
    close: () => file.close(),
  };
}

async function telemetryPart(url: string, topic: string, tell: (text: string) => void): Promise<Part> {
  const line = await MqttLine.open(url, topic, tell);
  const telemetry = new Telemetry((message) => line.publish(message));
  return {
    look: telemetry.look,
    begin: (loop, called) => telemetry.begin(loop, called),
    settle: () => line.settle(),
    close: () => {
      telemetry.end();
      return line.close();
    },
  };
}

export class Watch {
  readonly #parts: readonly Part[];

  private constructor(parts: readonly Part[]) {
    this.#parts = parts;
  }

  /**
   * @param tell takes one sentence when something can no longer be written or sent.
   * @throws InputError when a file cannot be written or a broker not be reached: nothing has moved yet, what stands in
   *   the files is left, and none is left behind that was not there.
   */
  static async open(
    values: ReadonlyMap<string, string>,
    jobPath: string | undefined,
    tell: (text: string) => void,
  ): Promise<Watch> {
    const [url, topic] = [values.get('mqtt'), values.get('mqtt-topic')];
    if (topic !== undefined && url === undefined)
      throw new InputError('--mqtt-topic is of no use without --mqtt; give both');
    const [trace, record] = [values.get('trace'), values.get('record')];
    const others = [jobPath, ...OTHERS.map((option) => values.get(option))].filter(
      (path) => path !== undefined,
    );
    const parts: Part[] = [];
    const madeFiles: (() => void)[] = [];
    try {
      if (trace !== undefined) madeFiles.push(WaitingFile.check(trace, TRACE, others));
      if (record !== undefined)
        madeFiles.push(
          WaitingFile.check(record, RECORDING, trace === undefined ? others : [...others, trace]),
        );
      // The files last: what stands in them goes only when nothing else is in the way.
      if (url !== undefined) parts.push(await telemetryPart(url, topic ?? DEFAULT_TOPIC, tell));
      if (trace !== undefined) parts.push(tracePart(trace, tell));
      if (record !== undefined) parts.push(recordingFile(record, RECORDING, tell));
      return new Watch(parts);
    } catch (error) {
      for (const part of parts) await part.close();
      for (const takeAway of madeFiles) takeAway();
      throw error;
    }
  }

  get observers(): readonly Observer[] {
    return this.#parts.map(({ look }) => look);
  }

  /** Before the first scan. */
  begin(loop: ScanLoop, called: Called): void {
    for (const part of this.#parts) part.begin(loop, called);
  }

  async settle(): Promise<void> {
    for (const part of this.#parts) await part.settle();
  }

  async close(): Promise<void> {
    for (const part of this.#parts) await part.close();
  }
}
