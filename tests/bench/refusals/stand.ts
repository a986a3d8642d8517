import { randomBytes } from 'node:crypto';
import { mkdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { env } from '@/lib/platform/env';
import { signMediaUrl } from '@/lib/platform/uploads/media-url';
import { deriveKey } from '@/lib/platform/uploads/signatures';
import { buildClip, buildLesson } from '../../support/build';
import type { Stand } from './row';
import type { RoleName, World } from './world';

const BYTES = 64;

/** A clip that its player has announced, and what the upload client says of it. */
export async function buildAnnounced(target: World['targets']['adult']) {
  const draft = await buildLesson(target.program, target.player, { state: 'draft' });
  return buildClip(draft, { state: 'expected', sizeBytes: BigInt(BYTES) });
}

/** The request of the upload client for a clip; see tests/uploads/support/sender.ts. */
export const claimOf = (clipId: string) => ({
  path: '/api/uploadthing?actionType=upload&slug=clip',
  headers: { 'content-type': 'application/json', 'x-uploadthing-version': '7.7.4' },
  body: JSON.stringify({
    files: [{ name: 'swing.mov', size: BYTES, type: 'video/quicktime' }],
    input: { clipId },
  }),
});

/** The bytes of an upload as its client sends them; the file begins like a MOV (ISO/IEC 14496-12). */
export const uploadBody = (): FormData => {
  const bytes = randomBytes(BYTES);
  bytes.set(Buffer.from('\0\0\0\x14ftypqt  \x20\x05\x03\0qt  ', 'latin1'), 0);
  const form = new FormData();
  form.append('file', new Blob([new Uint8Array(bytes)], { type: 'video/quicktime' }), 'x.mov');
  return form;
};

async function putFile(key: string): Promise<void> {
  const at = path.join(env.DATA_DIR, 'storage', key);
  await mkdir(path.dirname(at), { recursive: true });
  await writeFile(at, 'bytes');
}

/** What rows need of the run: signed addresses of files that are there, and uploads that have begun. */
export function makeStand(origin: string, world: World): Stand {
  return {
    putFile,
    async mediaPath(folder, id, file, as) {
      await putFile(`${folder}/${id}/${file}`);
      const personId = as?.person.id ?? world.targets.adult.player.id;
      const key = deriveKey(env.NEXTAUTH_SECRET, 'media');
      return signMediaUrl(key, { folder, id, file, personId, now: new Date() });
    },
    async uploadPath(target) {
      const clip = await buildAnnounced(target);
      const { path: at, headers, body } = claimOf(clip.id);
      const cookie = await world.cookieOf(
        (target.name === 'far' ? 'far-player' : target.name) satisfies RoleName,
      );
      const answer = await fetch(origin + at, {
        method: 'POST',
        headers: { ...headers, origin, 'sec-fetch-site': 'same-origin', ...(cookie && { cookie }) },
        body,
      });
      const [claimed] = (await answer.json()) as { url?: string }[];
      const url = new URL(claimed?.url ?? '', origin);
      return url.pathname + url.search;
    },
  };
}
