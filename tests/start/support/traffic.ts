import { randomUUID } from 'node:crypto';
import { request as httpRequest } from 'node:http';
import path from 'node:path';
import { emptyDraft } from '@/lib/domain/lessons/intake';
import { callServerAction, cookieOf, listActions } from '../../support/action-client';
import { buildPlayer, buildProgram } from '../../support/build';
import { claimsOf } from '../../support/viewers';
import { movieBytes } from '../../uploads/support/sender';

const UPLOAD_BYTES = 200_000;
/** Long enough that an upload is on its way while a server is told to end. */
const UPLOAD_MS = 1500;
const PIECES = 15;

const HEAD = '--cut\r\nContent-Disposition: form-data; name="file"; filename="a"\r\n\r\n';
const TAIL = '\r\n--cut--\r\n';

interface Sender {
  playerId: string;
  cookie: string;
}

/** Sends the file piece by piece; answers the status. */
const putSlowly = (url: URL, bytes: Buffer, { cookie }: Sender): Promise<number> =>
  new Promise((resolve, reject) => {
    const headers = {
      ...{ cookie, range: 'bytes=0-', 'content-type': 'multipart/form-data; boundary=cut' },
      'content-length': HEAD.length + bytes.length + TAIL.length,
    };
    const sending = httpRequest(url, { method: 'PUT', headers }, (answer) => {
      answer.resume().on('end', () => resolve(answer.statusCode ?? 0));
    });
    sending.on('error', reject);
    sending.write(HEAD);
    const step = Math.ceil(bytes.length / PIECES);
    let at = 0;
    const timer = setInterval(() => {
      sending.write(bytes.subarray(at, (at += step)));
      if (at < bytes.length) return;
      clearInterval(timer);
      sending.end(TAIL);
    }, UPLOAD_MS / PIECES);
  });

/** What people do at once: look at pages, send lessons, send a clip. */
export interface Traffic {
  /** Every request that was not answered as it should be. */
  dropped: string[];
  done: { reads: number; submits: number; uploads: number };
  /** Ends when every answer is in. */
  stop(): Promise<void>;
}

/** One of them begins so many lessons; nobody may begin many more in an hour. */
const LESSONS_EACH = 20;

/** Begins the traffic of some players, one after the other, through this origin, until it is told to stop. Nothing is tried again. */
export async function startTraffic(origin: string, secret: string): Promise<Traffic> {
  const program = await buildProgram();
  const somebody = async () => {
    const player = await buildPlayer(program);
    return { playerId: player.id, cookie: await cookieOf(await claimsOf(player, program), secret) };
  };
  let sender = await somebody();
  let begun = 0;
  const actions = listActions(path.resolve(import.meta.dirname, '../../../.next'));
  const traffic = { dropped: [] as string[], done: { reads: 0, submits: 0, uploads: 0 } };
  let isOver = false;

  const act = async (name: string, args: object, { cookie }: Sender) => {
    const action = actions.get(`app/lessons/actions.ts ${name}`);
    if (!action) throw new Error(`there is no action ${name}`);
    const { status, answer } = await callServerAction(origin, action, [args], { cookie });
    if (!answer?.ok) throw new Error(`${name}: ${status} ${JSON.stringify(answer)}`);
  };
  const clipOf = (id: string) => ({
    ...{ id, view: 'open_side', captureRate: null, focal35mm: null, isZoomed: null },
  });
  const beginLesson = async () => {
    begun += 1;
    if (begun % LESSONS_EACH === 0) sender = await somebody();
    const by = sender;
    const lessonId = randomUUID();
    await act('startLessonAction', { lessonId, playerId: by.playerId, followsId: null }, by);
    return { lessonId, by };
  };

  const read = async () => {
    const answer = await fetch(`${origin}/lessons`, {
      headers: { cookie: sender.cookie },
      redirect: 'manual',
    });
    const text = await answer.text();
    if (answer.status !== 200 || !text.includes('</html>')) throw new Error(`page: ${answer.status}`);
  };
  const submit = async () => {
    const draft = {
      ...{ ...emptyDraft(), question: 'Do I fly open?', bats: 'right', pitchMode: 'tee', painLevel: 0 },
      clips: [clipOf(randomUUID())],
    };
    const { lessonId, by } = await beginLesson();
    await act('submitLessonAction', { lessonId, draft, packId: null }, by);
  };
  const upload = async () => {
    const { lessonId, by } = await beginLesson();
    const clipId = randomUUID();
    await act('saveDraftAction', { lessonId, draft: { ...emptyDraft(), clips: [clipOf(clipId)] } }, by);
    const bytes = movieBytes(UPLOAD_BYTES);
    const claimed = await fetch(`${origin}/api/uploadthing?actionType=upload&slug=clip`, {
      method: 'POST',
      headers: {
        ...{ cookie: by.cookie, origin },
        ...{ 'content-type': 'application/json', 'x-uploadthing-version': '7.7.4' },
      },
      body: JSON.stringify({
        files: [{ name: 'swing.mov', size: bytes.length, type: 'video/quicktime' }],
        input: { clipId },
      }),
    });
    const [claim] = (await claimed.json()) as { url?: string }[];
    const status = await putSlowly(new URL(claim?.url ?? '', origin), bytes, by);
    if (status !== 200) throw new Error(`upload: ${status}`);
  };

  const loop = async (kind: keyof Traffic['done'], work: () => Promise<void>) => {
    while (!isOver) {
      try {
        await work();
        traffic.done[kind] += 1;
      } catch (error) {
        traffic.dropped.push(String(error));
      }
    }
  };
  const loops = [loop('reads', read), loop('submits', submit), loop('uploads', upload)];
  return {
    ...traffic,
    stop: async () => {
      isOver = true;
      await Promise.all(loops);
    },
  };
}
