// A recording that is written to a file while a job runs.
import { Recorder } from '../bench/recorder.ts';
import { type Asked, WaitingFile } from './waiting-file.ts';
import type { Part } from './watch-part.ts';

/**
 * @param others files that are not written over.
 * @param tell takes one sentence, once, when nothing more can be written.
 * @throws InputError when nothing can be written there.
 */
export function recordingFile(
  path: string,
  asked: Asked,
  others: readonly string[],
  tell: (text: string) => void,
): Part {
  const file = new WaitingFile(path, asked, others, tell);
  const recorder = new Recorder(file);
  return {
    look: recorder.look,
    begin: (loop, called) => recorder.begin(loop, called),
    settle: () => file.settle(),
    close: () => {
      recorder.end();
      return file.close();
    },
  };
}
