// Command words that must never be, written down without the table of interlocks.
import { type Commands, OUTPUTS } from '../../../controller/signals.ts';

/** What a command word endangers, or nothing. */
export function unsafe(commands: Commands): string | undefined {
  const on = (output: keyof Commands): boolean => commands[output].on;
  if (on('vacuumValve') && (on('chargeValve') || on('recoveryValve') || !on('vacuumPump'))) return 'pump';
  if (on('chargeValve') && (on('recoveryValve') || on('compressor') || on('lowSideValve'))) return 'charge';
  if (on('compressor') && !on('recoveryValve')) return 'compressor';
  if (on('oilValve') && on('dyeValve')) return 'bottles';
  const others = OUTPUTS.filter((output) => output !== 'airPurgeValve' && output !== 'fanStop');
  if (on('airPurgeValve') && others.some(on)) return 'atmosphere';
  const served = on('highSideValve') || on('lowSideValve');
  if (on('separatorDrainValve') && (!on('recoveryValve') || served || on('compressor'))) return 'drain';
  const bottle = on('oilValve') || on('dyeValve');
  if (bottle && (!on('highSideValve') || on('lowSideValve') || on('vacuumValve'))) return 'bottle';
  return undefined;
}
