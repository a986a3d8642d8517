import type { ClipFault } from './clip';

export interface ClipFaultFacts {
  /** What happened, what was kept, what to do: for the person who sent the clip. */
  forPeople: string;
  /** Whether the original stays in storage. What is refused is not half-kept: the sender still has it. */
  keepsOriginal: boolean;
  /**
   * `by-itself`: the program tries again soon without being asked; `on-request`: somebody may ask for another try
   * with the kept original; `never`: only another file helps.
   */
  retry: 'by-itself' | 'on-request' | 'never';
}

/** All that is known of each fault. Total: a new fault without its sentence does not compile. */
export const CLIP_FAULT_FACTS = {
  'not-a-video': {
    forPeople:
      'This file is not a video that we can take, so it was not kept. Choose the video itself: an MP4, MOV, WebM or MKV file.',
    keepsOriginal: false,
    retry: 'never',
  },
  'no-picture': {
    forPeople: 'This file has sound but no picture, so it was not kept. Choose the video of the swing.',
    keepsOriginal: false,
    retry: 'never',
  },
  empty: {
    forPeople: 'This file is empty, so there was nothing to keep. Choose the video again from your phone.',
    keepsOriginal: false,
    retry: 'never',
  },
  'cut-off': {
    forPeople:
      'The end of this video is missing, so it was not kept. Play it once on your phone: if it plays to the end, send it again, otherwise film the swing again.',
    keepsOriginal: false,
    retry: 'never',
  },
  'too-long': {
    forPeople:
      'This video is longer than a clip may be, so it was not kept. Trim it to the swing itself, a few seconds are enough, and send it again.',
    keepsOriginal: false,
    retry: 'never',
  },
  'too-large': {
    forPeople:
      'This video is larger than a clip may be, so it was not kept. Trim it to the swing itself and send it again.',
    keepsOriginal: false,
    retry: 'never',
  },
  'type-mismatch': {
    forPeople:
      'What is in this file is not what its name says, so it was not kept. Choose the video as your phone saved it, without renaming it.',
    keepsOriginal: false,
    retry: 'never',
  },
  unreadable: {
    forPeople:
      'We could not read this video. The file you sent is kept. Try once more, or save the video on your phone as MP4 and send that.',
    keepsOriginal: true,
    retry: 'on-request',
  },
  'out-of-memory': {
    forPeople:
      'This video was too heavy for us to prepare. The file you sent is kept. Trim it to the swing itself and send the short one, or try once more later.',
    keepsOriginal: true,
    retry: 'on-request',
  },
  'out-of-time': {
    forPeople:
      'Preparing this video took too long and was stopped. The file you sent is kept. Trim it to the swing itself and send the short one, or try once more later.',
    keepsOriginal: true,
    retry: 'on-request',
  },
  'disk-full': {
    forPeople:
      'We ran out of room while preparing this video. The file you sent is kept and we try again by ourselves. If this still stands here in an hour, ask for another try.',
    keepsOriginal: true,
    retry: 'by-itself',
  },
  'frames-lost': {
    forPeople:
      'Some pictures of this video are damaged, so its frames could not all be shown. The file you sent is kept. Play it on your phone: if it stutters there too, film the swing again; if not, try once more.',
    keepsOriginal: true,
    retry: 'on-request',
  },
  interrupted: {
    forPeople:
      'Preparing this video was interrupted. The file you sent is kept and we try again by ourselves. If this still stands here in an hour, ask for another try.',
    keepsOriginal: true,
    retry: 'by-itself',
  },
} as const satisfies Record<ClipFault, ClipFaultFacts>;

/** The same facts by fault, with the plain types of `ClipFaultFacts`. */
export const factsOfFault = (fault: ClipFault): ClipFaultFacts => CLIP_FAULT_FACTS[fault];

/** True when somebody may ask for another try with the file that is kept. */
export const canTryAgain = (fault: ClipFault): boolean => factsOfFault(fault).retry !== 'never';
