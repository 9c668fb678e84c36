// A recording that is written to a file while a job runs.
import { Recorder } from '../bench/recorder.ts';
import { type Asked, WaitingFile } from './waiting-file.ts';
import type { Part } from './watch-part.ts';

/**
 * @param tell takes one sentence, once, when nothing more can be written.
 * @throws InputError when nothing can be written there.
 */
export function recordingFile(path: string, asked: Asked, tell: (text: string) => void): Part {
  const file = new WaitingFile(path, asked, tell);
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
