// The 16-bit converter of the rig, of the ADS1118 kind (Texas Instruments, SBAS457; from memory, as the firmware's).

const VOLTS_A_COUNT = 187.5e-6;
const MOST = 32_767;
const LEAST = -32_768;
const CYCLES_A_CONVERSION = Math.round(16_000_000 / 860);
const START = 0x8000;
const VALID = 0x0006;
const IS_VALID = 0x0002;
/** Nothing answers: the pull-up of the line. */
const NOBODY = 0xff;

export class Converter {
  /** Volts at each of the four inputs; undefined where the part is missing. */
  volts: readonly number[] | undefined;
  private readonly bytes: number[] = [];
  private configuration = 0x058b;
  private result = 0;
  /** The conversion that goes out, whatever comes of the next one meanwhile. */
  private conversion = 0;
  private pending: { readonly counts: number; readonly readyAt: number } | undefined;
  private ready = false;
  selected = false;

  powerOn(): void {
    this.configuration = 0x058b;
    this.pending = undefined;
    this.result = 0;
    this.ready = false;
    this.selected = false;
  }

  select(selected: boolean): void {
    if (selected && !this.selected) this.bytes.length = 0;
    this.selected = selected;
  }

  /** Level of its output while it is selected and no byte goes: low when a conversion waits. */
  level(cycles: number): number {
    this.advance(cycles);
    return this.volts === undefined || !this.ready ? 1 : 0;
  }

  /** @param phase of the clock; with the wrong one it understands nothing. */
  swap(byte: number, phase: 0 | 1, cycles: number): number {
    if (this.volts === undefined || phase === 0) return NOBODY;
    this.advance(cycles);
    const at = this.bytes.push(byte) - 1;
    if (at === 0) this.conversion = this.result;
    if (at === 1) this.configure((this.bytes[0]! << 8) | byte, cycles);
    if (at < 2) return (at === 0 ? this.conversion >> 8 : this.conversion) & 0xff;
    return (at === 2 ? this.configuration >> 8 : this.configuration) & 0xff;
  }

  private configure(word: number, cycles: number): void {
    this.ready = false;
    if ((word & VALID) !== IS_VALID) return;
    this.configuration = word;
    if (!(word & START)) return;
    const input = ((word >> 12) & 7) - 4;
    const volts = this.volts?.[input] ?? 0;
    const counts = Math.min(Math.max(Math.round(volts / VOLTS_A_COUNT), LEAST), MOST);
    this.pending = { counts, readyAt: cycles + CYCLES_A_CONVERSION };
  }

  private advance(cycles: number): void {
    if (this.pending === undefined || cycles < this.pending.readyAt) return;
    this.result = this.pending.counts;
    this.ready = true;
    this.pending = undefined;
  }
}
