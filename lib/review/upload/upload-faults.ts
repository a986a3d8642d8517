import { CLIP_FAULTS, MAX_CLIPS, type ClipFault } from '@/lib/domain/clips/clip';
import { factsOfFault } from '@/lib/domain/clips/clip-faults';

/** Why a clip is not on its way, as far as the phone can tell: the domain's reasons, and those of sending itself. */
export type UploadFault = ClipFault | 'file-gone' | 'signed-out' | 'not-yours' | 'too-many-clips';

interface FaultFacts {
  sentence: string;
  /** Whether the same file may be tried again. */
  canRetry: boolean;
}

const OWN = {
  'file-gone': {
    sentence: 'Your phone no longer gives us this file. Choose it again, and it goes on from where it was.',
    canRetry: true,
  },
  'signed-out': {
    sentence: 'You are signed out. What was sent so far is kept. Sign in again, and it goes on.',
    canRetry: true,
  },
  'not-yours': {
    sentence: 'This clip cannot be added here any more. Start a new lesson and add it there.',
    canRetry: false,
  },
  'too-many-clips': {
    sentence: `A lesson takes ${MAX_CLIPS} clips. Remove one to add another.`,
    canRetry: false,
  },
  'disk-full': {
    sentence:
      'There is no room for this video on our side right now, so it was not kept. It is still on your phone: please try again later today.',
    canRetry: true,
  },
  interrupted: {
    sentence: 'This video was never sent to its end, so it was not kept. Choose it again on your phone.',
    canRetry: true,
  },
} as const satisfies Partial<Record<UploadFault, FaultFacts>>;

const isClipFault = (fault: string): fault is ClipFault => (CLIP_FAULTS as readonly string[]).includes(fault);

/** The sentence for the sender and whether trying again may help. */
export const factsOfUploadFault = (fault: UploadFault): FaultFacts => {
  if (Object.hasOwn(OWN, fault)) return OWN[fault as keyof typeof OWN];
  const clipFault = fault as ClipFault;
  return { sentence: factsOfFault(clipFault).forPeople, canRetry: false };
};

/** The reason behind a closed name that the server sent; null when it is none that ends an upload. */
export const finalFaultOf = (name: unknown): UploadFault | null => {
  if (typeof name !== 'string') return null;
  if (isClipFault(name)) return name;
  if (name === 'not-signed-in') return 'signed-out';
  return name === 'not-found' || name === 'safeguarding' || name === 'wrong-state' ? 'not-yours' : null;
};
