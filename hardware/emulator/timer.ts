// Timer 2 of the chip, counting to OCR2A and interrupting there. avr8js' own timer schedules an event at every step of
// its prescaler, 250 a millisecond here; this one schedules only the next match.
import type { Core, Interrupt } from './core.ts';

const TIFR2 = 0x37;
const TIMSK2 = 0x70;
const TCCR2A = 0xb0;
/** Chooses the timer's clock; 0 is none. */
export const TCCR2B = 0xb1;
const TCNT2 = 0xb2;
const OCR2A = 0xb3;

const COUNT_TO_MATCH = 2; // mode bits of TCCR2A
const MATCH = 2; // bit of TIFR2 and TIMSK2
/** Clocks a step for each clock selection (data sheet, "TCCR2B"). */
const DIVIDERS = [0, 1, 8, 32, 64, 128, 256, 1024];

/** @throws Error from the running program when it wants a mode that is not emulated. */
export function connectTimer(core: Core): void {
  const { data } = core;
  const interrupt: Interrupt = {
    address: 0x0e,
    flagRegister: TIFR2,
    flagMask: MATCH,
    enableRegister: TIMSK2,
    enableMask: MATCH,
  };
  let divider = 0;
  let zeroAt = 0;

  const period = (): number => (data[OCR2A]! + 1) * divider;
  const schedule = (): void => {
    core.clearClockEvent(matched);
    if (divider === 0) return;
    const matchAt = zeroAt + data[OCR2A]! * divider;
    core.addClockEvent(matched, (matchAt > core.cycles ? matchAt : matchAt + period()) - core.cycles);
  };
  const matched = (): void => {
    core.setInterruptFlag(interrupt);
    const matchAt = core.cycles - ((core.cycles - zeroAt - data[OCR2A]! * divider) % period());
    zeroAt = matchAt + divider;
    core.addClockEvent(matched, matchAt + period() - core.cycles);
  };
  const count = (): number =>
    divider === 0 ? data[TCNT2]! : Math.floor((core.cycles - zeroAt) / divider) % (data[OCR2A]! + 1);

  const set = (address: number, value: number, from: number): void => {
    data[address] = value;
    const mode = data[TCCR2A]! & 3;
    divider = DIVIDERS[data[TCCR2B]! & 7]!;
    if (divider !== 0 && (mode !== COUNT_TO_MATCH || data[TCCR2B]! & 8))
      throw new Error(`timer 2 is emulated only counting to OCR2A, not in mode ${mode}`);
    zeroAt = core.cycles - from * divider;
    schedule();
  };
  for (const register of [TCCR2A, TCCR2B, OCR2A])
    core.writeHooks[register] = (value) => {
      set(register, value, count());
      return true;
    };
  core.writeHooks[TCNT2] = (value) => {
    set(TCNT2, value, value);
    return true;
  };
  core.readHooks[TCNT2] = count;
  core.writeHooks[TIFR2] = (value) => {
    core.clearInterruptByFlag(interrupt, value);
    return true;
  };
  core.writeHooks[TIMSK2] = (value) => {
    data[TIMSK2] = value;
    core.updateInterruptEnable(interrupt, value);
    return true;
  };
}
