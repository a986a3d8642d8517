import * as z from 'zod';
import {
  ACCEPTED_TYPES,
  acceptedType,
  originalKey,
  type AcceptedType,
} from '@/lib/domain/clips/accepted-types';
import type { ClipFault } from '@/lib/domain/clips/clip';
import type { UploadClaims, UploadLimits } from './claims';
import { ClipRefusal, type UploadRefusal } from './refusal';
import { sniffType, SNIFF_BYTES } from './sniff-type';
import type { UploadSort, UploadSubject } from './upload-sort';

const REMEMBERED_FOR_MS = 30 * 24 * 60 * 60 * 1000;

const subjectSchema = z.object({ clipId: z.uuid().transform((id) => id.toLowerCase()) });
const clipOf = (subject: UploadSubject): string => subjectSchema.parse(subject).clipId;
const typeOf = (type: string): AcceptedType => {
  const accepted = acceptedType(type);
  if (accepted === null) throw new ClipRefusal('not-a-video', { declared: type });
  return accepted;
};
const clipFaultOf = (refusal: UploadRefusal): ClipFault =>
  refusal.reason === 'not-a-part' ? 'not-a-video' : refusal.reason;

/** Clips: input `{ clipId }`, a video of an accepted type, told by its first bytes. */
export const createClipSort = (claims: UploadClaims, limits: UploadLimits): UploadSort => ({
  slug: 'clip',
  maxBytes: limits.maxBytes,
  headBytes: SNIFF_BYTES,
  rememberedForMs: REMEMBERED_FOR_MS,
  isMadeAnew: false,
  subjectSchema,
  declared(file) {
    const type = acceptedType(file.type);
    if (file.size === 0) throw new ClipRefusal('empty');
    if (type === null)
      throw new ClipRefusal(file.type.startsWith('audio/') ? 'no-picture' : 'not-a-video', {
        declared: file.type,
      });
    if (file.size > limits.maxBytes) throw new ClipRefusal('too-large', { sizeBytes: file.size });
    return { sizeBytes: file.size, type };
  },
  storageKey: (subject, type) => originalKey(clipOf(subject), typeOf(type)),
  ending: (type) => ACCEPTED_TYPES[typeOf(type)].ending,
  claim: (request, subject, declared) =>
    claims.claim(request, clipOf(subject), {
      sizeBytes: declared.sizeBytes,
      type: typeOf(declared.type),
    }),
  sniff: (_subject, head, declaredType) => sniffType(head, typeOf(declaredType)),
  progress: async (subject, receivedBytes) => claims.progress?.({ clipId: clipOf(subject), receivedBytes }),
  stored: ({ subject, type, personId, storageKey, sizeBytes, md5 }) =>
    claims.stored({ clipId: clipOf(subject), personId, storageKey, sizeBytes, md5, type: typeOf(type) }),
  refused: (subject, personId, refusal) =>
    claims.refused({ clipId: clipOf(subject), personId, fault: clipFaultOf(refusal) }),
  inItsWords: (refusal) =>
    refusal instanceof ClipRefusal ? refusal : new ClipRefusal(clipFaultOf(refusal), refusal.detail),
});
