import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { v7 as uuid } from 'uuid';
import { emptyDraft } from '@/lib/domain/lessons/intake';
import { wipeLocation } from '@/lib/platform/media/wipe-location';
import { makeClip } from '../../support/media/make-clip';
import { callServerAction } from '../../support/action-client';
import { outcomeOf } from './book';
import type { Stage } from './stories';
import type { Asker } from './world';
import { later } from './waiting';

const TYPE = 'video/mp4';
/** So that preparing clips leaves the machine time for the rest. */
const PAUSE_MS = 2000;

/** A small clip whose bytes stay as they are: what could tell a place is taken out of it before, as the phone does. */
export async function aClip(folder: string): Promise<Uint8Array> {
  const [file, wiped] = [path.join(folder, 'swing.mp4'), path.join(folder, 'wiped.mp4')];
  await makeClip({ path: file, frames: 24, rate: { num: 60, den: 1 } });
  return readFile(wipeLocation(file, 'iso', wiped) === 'wiped' ? wiped : file);
}

type Claim = { url?: string }[] & { fault?: string; message?: string };

/** One try: asks where to send it, how much of it is there, and sends the rest. */
async function send(stage: Stage, player: Asker, clipId: string, bytes: Uint8Array) {
  const headers = { cookie: player.cookie, origin: stage.origin };
  const claimed = await fetch(`${stage.origin}/api/uploadthing?actionType=upload&slug=clip`, {
    method: 'POST',
    headers: { ...headers, 'content-type': 'application/json', 'x-uploadthing-version': '7.7.4' },
    body: JSON.stringify({
      files: [{ name: 'swing.mp4', size: bytes.length, type: TYPE }],
      input: { clipId },
    }),
  });
  const claim = (await claimed.json()) as Claim;
  if (claim.fault === 'already-stored') return { ok: true };
  const address = claim[0]?.url;
  if (!address) {
    const isFinal = claimed.status < 500 && claimed.status !== 429;
    return isFinal ? { refused: `${claim.fault}: ${claim.message}` } : { again: `claim ${claimed.status}` };
  }
  const url = new URL(address, stage.origin);
  const head = await fetch(url, { method: 'HEAD', headers });
  const from = Number(head.headers.get('x-ut-range-start') ?? 0);
  const form = new FormData();
  form.append('file', new Blob([new Uint8Array(bytes.subarray(from))], { type: TYPE }), 'swing.mp4');
  const put = await fetch(url, {
    method: 'PUT',
    body: form,
    headers: { ...headers, range: `bytes=${from}-` },
  });
  return put.status === 200 ? { ok: true } : { again: `put ${put.status}` };
}

/** A player adds clips to unsent lessons, one after the other; each is sent until the program has all of it. */
export async function sendClips(
  stage: Stage,
  player: Asker,
  bytes: Uint8Array,
  isOver: () => boolean,
): Promise<void> {
  const md5 = createHash('md5').update(bytes).digest('hex');
  const act = async (name: string, args: object) => {
    const action = stage.actions.get(`app/lessons/actions.ts ${name}`);
    if (!action) throw new Error(`There is no action ${name} in this build.`);
    await stage.book.insist(name, async () =>
      outcomeOf(await callServerAction(stage.origin, action, [args], { cookie: player.cookie })),
    );
  };
  while (!isOver()) {
    const [lessonId, clipId] = [uuid(), uuid()];
    try {
      await act('startLessonAction', { lessonId, playerId: player.id, followsId: null });
      const clip = { id: clipId, view: 'open_side', captureRate: null, focal35mm: null, isZoomed: null };
      await act('saveDraftAction', { lessonId, draft: { ...emptyDraft(), clips: [clip] } });
      await stage.book.insist('upload', () => send(stage, player, clipId, bytes));
      stage.book.note('upload', clipId, { md5 });
    } catch (error) {
      if (!(error instanceof Error && error.name === 'Refused')) throw error;
    }
    await later(PAUSE_MS);
  }
}
