import * as z from 'zod';
import { partKey, remarkKey } from '@/lib/domain/breakdowns/files';
import { readPart } from '@/lib/domain/breakdowns/parse-part';
import { PART_TYPE } from '@/lib/domain/breakdowns/timeline';
import type { PartClaims, PartSubject } from './claims';
import { asPartRefusal, PartRefusal } from './refusal';
import type { UploadSort, UploadSubject } from './upload-sort';

/** The largest part, in bytes: ten seconds of voice are forty kilobytes, the rest is room for a hand that draws. */
const MAX_PART_BYTES = 4 * 1024 * 1024;
/** The database knows what is stored, so that the records may go soon: a breakdown has sixty of them. */
const REMEMBERED_FOR_MS = 24 * 60 * 60 * 1000;

const id = z.uuid().transform((text) => text.toLowerCase());
const subjectSchema = z.union([
  z.object({ breakdownId: id, segmentId: id, number: z.int().min(0).max(2000) }),
  z.object({ remarkId: id }),
]);
const partOf = (subject: UploadSubject): PartSubject => subjectSchema.parse(subject);

const readWhole = (bytes: Uint8Array) => {
  try {
    return readPart(bytes).head;
  } catch (error) {
    throw new PartRefusal('not-a-part', {}, { cause: error });
  }
};

/** Parts of breakdowns and spoken remarks: small files of one type that are read whole before they are kept. */
export const createPartSort = (claims: PartClaims): UploadSort => ({
  slug: 'part',
  maxBytes: MAX_PART_BYTES,
  headBytes: MAX_PART_BYTES,
  rememberedForMs: REMEMBERED_FOR_MS,
  // After an update the browser writes its kept takes as the newest version does.
  isMadeAnew: true,
  subjectSchema,
  declared(file) {
    if (file.type !== PART_TYPE) throw new PartRefusal('type-mismatch', { declared: file.type });
    if (file.size === 0) throw new PartRefusal('empty');
    if (file.size > MAX_PART_BYTES) throw new PartRefusal('too-large', { sizeBytes: file.size });
    return { sizeBytes: file.size, type: PART_TYPE };
  },
  storageKey(subject) {
    const part = partOf(subject);
    return 'remarkId' in part ? remarkKey(part.remarkId) : partKey(part);
  },
  ending: () => 'part',
  claim: (request, subject, { sizeBytes, print }) =>
    claims.claim(request, partOf(subject), { sizeBytes, print }),
  async sniff(subject, bytes) {
    const part = partOf(subject);
    const named = 'remarkId' in part ? { segmentId: part.remarkId, number: 0 } : part;
    const head = readWhole(bytes);
    if (head.segmentId !== named.segmentId || head.number !== named.number)
      throw new PartRefusal('not-a-part', { segmentId: head.segmentId, number: head.number });
    return PART_TYPE;
  },
  progress: async () => {},
  stored: ({ subject, personId, storageKey, sizeBytes, md5 }) =>
    claims.stored({ part: partOf(subject), personId, storageKey, sizeBytes, md5 }),
  // The device that recorded it still has it and sends it again: there is nothing to note.
  refused: async () => {},
  inItsWords: asPartRefusal,
});
