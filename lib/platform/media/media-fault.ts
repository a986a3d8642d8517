import type { ClipFault } from '@/lib/domain/clips/clip';

/** Why a file is refused or cannot be prepared. `message` is for the log: people read the sentence of the fault. */
export class MediaFault extends Error {
  override readonly name = 'MediaFault';
  constructor(
    readonly fault: ClipFault,
    message: string,
  ) {
    super(message);
  }
}
