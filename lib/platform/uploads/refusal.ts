import type { ClipFault } from '@/lib/domain/clips/clip';
import { factsOfFault } from '@/lib/domain/clips/clip-faults';
import { CagepostError, STATUS_OF, type Fault } from '@/lib/domain/shared/errors';

const FAULT_OF_CLIP = {
  'not-a-video': 'unsupported',
  'no-picture': 'unsupported',
  empty: 'invalid',
  'cut-off': 'invalid',
  'too-long': 'too-large',
  'too-large': 'too-large',
  'type-mismatch': 'unsupported',
  unreadable: 'unsupported',
  'out-of-memory': 'unavailable',
  'out-of-time': 'unavailable',
  'disk-full': 'storage-full',
  'frames-lost': 'internal',
  interrupted: 'unavailable',
} as const satisfies Record<ClipFault, Fault>;

// The domain's sentences for these tell of preparing, where the original is kept; an upload keeps nothing of them.
const WHILE_SENDING: Partial<Record<ClipFault, string>> = {
  'disk-full':
    'There is no room for this video on our side right now, so it was not kept. It is still on your phone: please try again later today.',
  interrupted: 'This video was never sent to its end, so it was not kept. Choose it again on your phone.',
};

/** A clip is turned away for one of the closed reasons; the sentence for people comes from the domain. */
export class ClipRefusal extends CagepostError {
  constructor(
    readonly clipFault: ClipFault,
    detail: Record<string, unknown> = {},
    options?: ErrorOptions,
  ) {
    const sentence = WHILE_SENDING[clipFault] ?? factsOfFault(clipFault).forPeople;
    super(FAULT_OF_CLIP[clipFault], sentence, { clipFault, ...detail }, options);
  }
}

/** What a sender is told: status, a sentence, and the closed name of the reason. */
export interface ToldRefusal {
  status: number;
  message: string;
  fault: ClipFault | Fault;
}

/** Turns any error into what may be told; an unknown one tells nothing of itself. */
export const toldRefusal = (error: unknown): ToldRefusal => {
  if (error instanceof ClipRefusal)
    return { status: STATUS_OF[error.fault], message: error.forPeople, fault: error.clipFault };
  if (error instanceof CagepostError)
    return { status: STATUS_OF[error.fault], message: error.forPeople, fault: error.fault };
  return {
    status: STATUS_OF.internal,
    message: 'Something went wrong on our side. What was sent so far is kept. It goes on by itself.',
    fault: 'internal',
  };
};
