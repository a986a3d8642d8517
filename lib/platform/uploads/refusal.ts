import type { ClipFault } from '@/lib/domain/clips/clip';
import { factsOfFault } from '@/lib/domain/clips/clip-faults';
import { CagepostError, STATUS_OF, type Fault } from '@/lib/domain/shared/errors';

const FAULT_OF_REASON = {
  'not-a-video': 'unsupported',
  'no-picture': 'unsupported',
  'not-a-part': 'unsupported',
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
} as const satisfies Record<ClipFault | PartFault, Fault>;

// The domain's sentences for these tell of preparing, where the original is kept; an upload keeps nothing of them.
const WHILE_SENDING: Partial<Record<ClipFault, string>> = {
  'disk-full':
    'There is no room for this video on our side right now, so it was not kept. It is still on your phone: please try again later today.',
  interrupted: 'This video was never sent to its end, so it was not kept. Choose it again on your phone.',
};

/** A file is turned away, and nothing of it is kept. `reason` is its closed name. */
export class UploadRefusal<
  Reason extends ClipFault | PartFault = ClipFault | PartFault,
> extends CagepostError {
  constructor(
    readonly reason: Reason,
    sentence: string,
    detail: Record<string, unknown> = {},
    options?: ErrorOptions,
  ) {
    super(FAULT_OF_REASON[reason], sentence, { reason, ...detail }, options);
  }
}

/** A clip is turned away for one of the closed reasons; the sentence for people comes from the domain. */
export class ClipRefusal extends UploadRefusal<ClipFault> {
  constructor(clipFault: ClipFault, detail: Record<string, unknown> = {}, options?: ErrorOptions) {
    super(clipFault, WHILE_SENDING[clipFault] ?? factsOfFault(clipFault).forPeople, detail, options);
  }
}

/** Why a part of a breakdown is turned away. The device that recorded it still has it. */
export type PartFault =
  'not-a-part' | 'empty' | 'cut-off' | 'too-large' | 'type-mismatch' | 'disk-full' | 'interrupted';

const PART_SENTENCE = {
  'not-a-part':
    'A part of the recording arrived damaged, so it was not kept here. It is still on your device and can be sent again.',
  empty: 'A part of the recording was empty, so there was nothing to keep. The rest goes on.',
  'cut-off':
    'A part of the recording did not arrive whole, so it was not kept here. It is still on your device and is sent again.',
  'too-large':
    'A part of the recording is larger than a part may be, so it was not kept here. It is still on your device.',
  'type-mismatch':
    'What arrived is not a part of a recording, so it was not kept here. The recording is still on your device.',
  'disk-full':
    'There is no room on our side right now, so this part was not kept here. It is still on your device: it is sent again later.',
  interrupted: 'A part of the recording was never sent to its end. It is still on your device.',
} as const satisfies Record<PartFault, string>;

/** A part of a breakdown is turned away for one of the closed reasons. */
export class PartRefusal extends UploadRefusal<PartFault> {
  constructor(partFault: PartFault, detail: Record<string, unknown> = {}, options?: ErrorOptions) {
    super(partFault, PART_SENTENCE[partFault], detail, options);
  }
}

/** What is refused of any file while it arrives (its length, a full disk), in the words for parts. */
export const asPartRefusal = (refusal: UploadRefusal): PartRefusal => {
  if (refusal instanceof PartRefusal) return refusal;
  const known = Object.keys(PART_SENTENCE).find((name) => name === refusal.reason);
  return new PartRefusal((known ?? 'not-a-part') as PartFault, refusal.detail, { cause: refusal });
};

/** What a sender is told: status, a sentence, and the closed name of the reason. */
export interface ToldRefusal {
  status: number;
  message: string;
  fault: ClipFault | PartFault | Fault;
}

/** Turns any error into what may be told; an unknown one tells nothing of itself. */
export const toldRefusal = (error: unknown): ToldRefusal => {
  if (error instanceof UploadRefusal)
    return { status: STATUS_OF[error.fault], message: error.forPeople, fault: error.reason };
  if (error instanceof CagepostError)
    return { status: STATUS_OF[error.fault], message: error.forPeople, fault: error.fault };
  return {
    status: STATUS_OF.internal,
    message: 'Something went wrong on our side. What was sent so far is kept. It goes on by itself.',
    fault: 'internal',
  };
};
