// A line to an MQTT 5 broker (OASIS standard, 2019) that nothing waits for: what it cannot take is dropped and counted.
import type { IClientOptions, MqttClient } from 'mqtt';
import manifest from '../../package.json' with { type: 'json' };
import { InputError, textOf } from '../cli/command.ts';
import type { Message } from './telemetry.ts';

const PROTOCOLS = ['mqtt:', 'mqtts:', 'ws:', 'wss:'];
const CONNECT_MS = 5_000;
const AGAIN_MS = 2_000;
/** Messages that the broker has not taken yet; more are dropped. What is told but once has room of its own. */
const MOST_WAITING = { sure: 200, rest: 800 };
/** From so many of the rest on a run that can wait lets the line catch up: so long, and then no more until it has. */
const BEHIND = 100;
const PATIENCE_MS = 2_000;
const LOOK_MS = 5;
/** A broker that does not answer does not hold up the end of a job. */
const END_MS = 2_000;

const ABOUT: NonNullable<NonNullable<IClientOptions['will']>['properties']> = {
  contentType: 'application/json',
  payloadFormatIndicator: true,
};

/** Never with the password. @throws InputError for what is no address of a broker. */
function placeOf(url: string): string {
  const parsed = URL.canParse(url) ? new URL(url) : undefined;
  if (parsed === undefined || !PROTOCOLS.includes(parsed.protocol) || parsed.hostname === '')
    throw new InputError('--mqtt must be the address of a broker, such as mqtt://localhost:1883');
  return `${parsed.protocol}//${parsed.host}`;
}

/** @throws InputError for a topic that nobody may publish to (MQTT 5, 4.7). */
function checkTopic(topic: string): void {
  if (topic === '' || /[+#\0]/.test(topic) || /^\$|^\/|\/$/.test(topic))
    throw new InputError(
      `--mqtt-topic must be a topic such as coldbench/bench, without + # $, not '${topic}'`,
    );
}

/** @throws InputError where the optional package is missing. */
async function library() {
  try {
    return await import('mqtt');
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ERR_MODULE_NOT_FOUND') throw error;
    const version = manifest.optionalDependencies.mqtt;
    throw new InputError(`--mqtt needs a package that is not installed: npm install mqtt@${version}`);
  }
}

const reasonOf = (error: unknown): string => {
  // Where a name has several addresses, each has failed by itself.
  const [first] = error instanceof AggregateError ? error.errors : [error];
  return textOf(first);
};

export class MqttLine {
  readonly #client: MqttClient;
  readonly #topic: string;
  readonly #place: string;
  readonly #tell: (text: string) => void;
  #state: Message | undefined;
  /** What the broker has not taken yet: of what is sure to be sent, and of the rest. */
  readonly #waiting = { sure: 0, rest: 0 };
  #dropped = 0;
  #isGivenUp = false;
  #down = false;
  #ending = false;

  private constructor(client: MqttClient, place: string, topic: string, tell: (text: string) => void) {
    this.#client = client;
    this.#place = place;
    this.#topic = topic;
    this.#tell = tell;
    client.on('close', () => this.#lost());
    client.on('connect', () => this.#back());
    // What went wrong shows as a close; without a listener it would end the process.
    client.on('error', () => {});
  }

  /**
   * @param tell takes one sentence when the broker vanishes, and when it is back.
   * @throws InputError when the broker cannot be reached, or does not speak MQTT 5.
   */
  static async open(url: string, topic: string, tell: (text: string) => void): Promise<MqttLine> {
    const place = placeOf(url);
    checkTopic(topic);
    const { connectAsync } = await library();
    try {
      const client = await connectAsync(
        url,
        {
          protocolVersion: 5,
          connectTimeout: CONNECT_MS,
          reconnectPeriod: AGAIN_MS,
          queueQoSZero: false,
          will: {
            topic: `${topic}/state`,
            payload: Buffer.from(JSON.stringify({ state: 'offline' })),
            qos: 1,
            retain: true,
            properties: ABOUT,
          },
        },
        false,
      );
      return new MqttLine(client, place, topic, tell);
    } catch (error) {
      throw new InputError(
        `no MQTT 5 broker at ${place}: ${reasonOf(error)}; start one, or leave --mqtt out`,
      );
    }
  }

  /** Never waits. */
  publish(message: Message): void {
    if (message.topic === 'state') this.#state = message;
    const kind = message.sure ? 'sure' : 'rest';
    if (this.#waiting[kind] >= MOST_WAITING[kind]) {
      this.#dropped += 1;
      return;
    }
    this.#waiting[kind] += 1;
    this.#send(message, (error) => {
      this.#waiting[kind] -= 1;
      if (error !== undefined && error !== null) this.#dropped += 1;
    });
  }

  /** For a run whose time can stand still: waits a little while the broker is behind. */
  async settle(): Promise<void> {
    const until = performance.now() + PATIENCE_MS;
    while (this.#isBehind && !this.#isGivenUp) {
      await new Promise((resolve) => setTimeout(resolve, LOOK_MS));
      if (performance.now() > until) this.#isGivenUp = true;
    }
    if (!this.#isBehind) this.#isGivenUp = false;
  }

  get #isBehind(): boolean {
    return this.#client.connected && this.#waiting.rest > BEHIND;
  }

  /** What waits is sent, for a while; then the line is closed in order, and no will is spoken. */
  async close(): Promise<void> {
    this.#ending = true;
    const taken = this.#client.connected ? this.#client.endAsync() : this.#client.endAsync(true);
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<void>((resolve) => {
      timer = setTimeout(resolve, END_MS);
    });
    await Promise.race([taken, late]);
    clearTimeout(timer);
    this.#client.stream?.destroy();
    if (this.#dropped > 0) this.#tell(`${this.#dropped} messages did not reach the broker.`);
  }

  #send({ topic, body, retained, sure }: Message, done: (error?: Error | null) => void): void {
    const options = { qos: sure ? 1 : 0, retain: retained, properties: ABOUT } as const;
    this.#client.publish(`${this.#topic}/${topic}`, JSON.stringify(body), options, done);
  }

  #lost(): void {
    if (this.#down || this.#ending) return;
    this.#down = true;
    this.#tell(`The MQTT broker at ${this.#place} is gone; the job goes on.`);
  }

  /** Meanwhile the broker has spoken the will. */
  #back(): void {
    if (!this.#down) return;
    this.#down = false;
    this.#tell(`The MQTT broker at ${this.#place} is back.`);
    if (this.#state !== undefined) this.publish(this.#state);
  }
}
