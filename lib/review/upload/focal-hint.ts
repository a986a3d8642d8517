import type { Input } from 'mediabunny';
import { taggedFocal } from '@/lib/domain/clips/lens-tag';

/** Reads the lens out of a file's metadata, before `scrubLocation` blanks it; null when the phone did not write it. */
export const readFocalHint = async (input: Input): Promise<number | null> =>
  taggedFocal((await input.getMetadataTags()).raw ?? {});
