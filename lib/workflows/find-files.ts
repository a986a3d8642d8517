import path from 'node:path';
import { readPart } from '@/lib/domain/breakdowns/parse-part';
import { breakdownFolder, voiceTypeOf } from '@/lib/domain/breakdowns/files';
import { clipFolder, documentFolder } from '@/lib/domain/privacy/files';
import type { Everything, EverythingFile, EverythingLesson } from '@/lib/domain/privacy/everything';
import { LARGEST_FILE, type PackedFile } from '@/lib/domain/privacy/export';
import { renderMoneyDocument } from '@/lib/documents/money-document';
import { bytesOf } from './bytes-of';
import type { Ports } from './ports';

type FilePorts = Pick<Ports, 'storage' | 'log'>;

/**
 * Finds the files that belong into a copy of everything, and writes their names into it. Bills that nobody has opened yet
 * are made; a remark gets a copy of its voice without its head. Files that are not kept any more are left out.
 */
export async function findFiles(ports: FilePorts, all: Everything): Promise<PackedFile[]> {
  const { storage } = ports;
  let drafts = 0;
  const found: EverythingFile[] = [];
  for (const lesson of all.lessons) {
    const name = lesson.number === null ? `unsent-${(drafts += 1)}` : `lesson-${lesson.number}`;
    found.push(...(await filesOfLesson(storage, lesson, `lessons/${name}`)));
  }
  for (const document of all.documents) {
    const key = `${documentFolder(document.id)}/document.pdf`;
    if ((await storage.size(key)) === null)
      await storage.put(key, {
        bytes: await renderMoneyDocument({ ...document, at: new Date(document.at) }),
      });
    found.push({ file: document.file, key });
  }
  for (const remark of all.remarks) {
    remark.files = await voiceOf(storage, remark.files);
    found.push(...remark.files);
  }
  for (const [at, clip] of all.drillClips.entries()) {
    clip.files = await filesOfClip(storage, clip.id, `drills/clip-${at + 1}`);
    found.push(...clip.files);
  }
  const packed: PackedFile[] = [];
  for (const { file, key } of found) {
    const bytes = await storage.size(key);
    if (bytes === null) continue;
    if (bytes > LARGEST_FILE) all.leftOut.push(file);
    else packed.push({ name: file, key, bytes });
  }
  const isIn = new Set(packed.map((one) => one.name));
  for (const one of [
    ...all.lessons.flatMap((lesson) => [...lesson.clips, ...lesson.breakdowns]),
    ...all.remarks,
    ...all.drillClips,
  ])
    one.files = one.files.filter(({ file }) => isIn.has(file));
  return packed;
}

async function filesOfLesson(
  storage: Ports['storage'],
  lesson: EverythingLesson,
  folder: string,
): Promise<EverythingFile[]> {
  for (const [at, clip] of lesson.clips.entries()) {
    const isKept = clip.removedAt === null;
    clip.files = isKept ? await filesOfClip(storage, clip.id, `${folder}/clip-${at + 1}`) : [];
  }
  for (const [at, breakdown] of lesson.breakdowns.entries()) {
    const keys = breakdown.removedAt === null ? await storage.list(breakdownFolder(breakdown.id)) : [];
    breakdown.files = keys.flatMap((key) => {
      const parts = /\/(voice|timeline|sound)-(\d+)(\.\w+)$/.exec(key);
      return parts && Number(parts[2]) === breakdown.take
        ? [{ file: `${folder}/breakdown-${at + 1}/${parts[1]}${parts[3]}`, key }]
        : [];
    });
  }
  return [...lesson.clips, ...lesson.breakdowns].flatMap((one) => one.files);
}

const filesOfClip = async (
  storage: Ports['storage'],
  clipId: string,
  folder: string,
): Promise<EverythingFile[]> => {
  const keys = await storage.list(clipFolder(clipId));
  return keys.map((key) => ({ file: `${folder}/${path.posix.basename(key)}`, key }));
};

/** A spoken remark lies as a part with a head that no player knows; beside it the voice alone is put. */
async function voiceOf(
  storage: Ports['storage'],
  files: readonly EverythingFile[],
): Promise<EverythingFile[]> {
  const voices: EverythingFile[] = [];
  for (const { file, key } of files) {
    const bytes = await bytesOf(storage, key);
    if (!bytes) continue;
    const { head, voice } = readPart(bytes);
    const type = voiceTypeOf(head.voiceType);
    if (!type) continue;
    const ending = type === 'audio/mp4' ? 'm4a' : 'webm';
    const beside = `${path.posix.dirname(key)}/voice.${ending}`;
    await storage.put(beside, { bytes: voice });
    voices.push({ file: file.replace(/\.part$/, `.${ending}`), key: beside });
  }
  return voices;
}
