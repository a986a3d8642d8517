import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { sealSession, sessionCookie, type Claims } from '@/lib/auth/session';
import type { Answer } from '@/lib/domain/shared/result';

// Calls server actions of a built program over HTTP as its pages do: React's own encoder makes the body, React's own
// reader takes the answer apart. The framework hands out both, for its client, under this name.
interface Reply {
  encodeReply(args: readonly unknown[]): Promise<string | FormData>;
  createFromReadableStream(stream: ReadableStream, options: object): Promise<{ a: Promise<unknown> }>;
}
const reply = createRequire(import.meta.url)(
  'next/dist/compiled/react-server-dom-turbopack/client.node.js',
) as Reply;

/** A server action of the built program. */
export interface ServerAction {
  id: string;
  /** `app/lessons/actions.ts replyAction` */
  name: string;
  /** A page that knows the action, like `/lessons/[lessonId]`. */
  page: string;
}

interface Manifest {
  node: Record<string, { workers: Record<string, unknown>; exportedName: string; filename: string }>;
}

const manifestsIn = (folder: string): string[] => {
  const whole = path.join(folder, 'server/server-reference-manifest.json');
  if (existsSync(whole)) return [whole];
  // The server with reloading keeps one for each page it has drawn.
  return readdirSync(path.join(folder, 'server/app'), { recursive: true, encoding: 'utf8' })
    .filter((file) => path.basename(file) === 'server-reference-manifest.json')
    .map((file) => path.join(folder, 'server/app', file));
};

/** `app/(public)/invite/[token]/page` is opened at `/invite/[token]`. */
const addressOf = (worker: string) =>
  `/${worker
    .split('/')
    .slice(1, -1)
    .filter((part) => !part.startsWith('('))
    .join('/')}`;

/** Every server action by name, from what the build wrote down in its folder (`.next`). */
export function listActions(folder: string): Map<string, ServerAction> {
  const found = new Map<string, ServerAction>();
  for (const file of manifestsIn(folder)) {
    const { node } = JSON.parse(readFileSync(file, 'utf8')) as Manifest;
    for (const [id, { workers, exportedName, filename }] of Object.entries(node)) {
      const pages = Object.keys(workers)
        .map(addressOf)
        .sort((a, b) => a.split('[').length - b.split('[').length);
      const name = `${filename} ${exportedName}`;
      found.set(name, { id, name, page: pages[0] ?? '/' });
    }
  }
  return found;
}

/** What came back from a call: `answer` null where the action itself did not answer (sent elsewhere, turned away, fell). */
export interface ActionReply {
  status: number;
  answer: Answer<unknown> | null;
  /** Where the action sent the browser, if it did. */
  redirect: string | null;
  setCookie: string[];
}

/**
 * Calls an action with these arguments: plain values as an action with a value takes them, `null` and a `FormData` for
 * a form's. `cookie` is the header's text. `at` is the page it is called from, by default one that knows the action,
 * its parameters filled with an id that nobody has. Throws only where the server cannot be reached.
 */
export async function callServerAction(
  origin: string,
  action: ServerAction,
  args: readonly unknown[],
  { cookie, at, headers = {} }: { cookie?: string; at?: string; headers?: Record<string, string> } = {},
): Promise<ActionReply> {
  const page = at ?? action.page.replace(/\[[^\]]+\]/g, '00000000-0000-4000-8000-000000000000');
  const body = await reply.encodeReply(args);
  const response = await fetch(origin + page, {
    method: 'POST',
    redirect: 'manual',
    headers: {
      accept: 'text/x-component',
      'next-action': action.id,
      origin,
      ...(typeof body === 'string' && { 'content-type': 'text/plain;charset=UTF-8' }),
      ...(cookie && { cookie }),
      ...headers,
    },
    body,
  });
  const text = await response.text();
  const isAnswer = response.headers.get('content-type')?.startsWith('text/x-component') ?? false;
  return {
    status: response.status,
    answer: isAnswer ? await readAnswer(text) : null,
    redirect: response.headers.get('x-action-redirect') ?? response.headers.get('location'),
    setCookie: response.headers.getSetCookie(),
  };
}

/**
 * The value that an action returned. A page that the action had drawn anew comes in the same stream and names code of
 * the browser: the root is cut down to the answer, and only rows of plain data are read.
 */
async function readAnswer(text: string): Promise<Answer<unknown> | null> {
  const rows = text.split('\n').filter((row) => /^[0-9a-f]+:["[{]/.test(row) && !row.startsWith('0:'));
  const root = /^0:\{"a":("[^"]*")/m.exec(text)?.[1];
  if (!root) return null;
  const cut = [`0:{"a":${root}}`, ...rows, ''].join('\n');
  const options = { serverConsumerManifest: { moduleMap: null, serverModuleMap: null, moduleLoading: null } };
  try {
    const { a } = await reply.createFromReadableStream(new Blob([cut]).stream(), options);
    return ((await a) ?? null) as Answer<unknown> | null;
  } catch {
    return null;
  }
}

/** A form with these fields; a value of `undefined` leaves its field out. */
export const formOf = (fields: Record<string, string | undefined>): FormData => {
  const form = new FormData();
  for (const [name, value] of Object.entries(fields)) if (value !== undefined) form.append(name, value);
  return form;
};

/** The cookie header of a session with these claims, for a program that is served over plain http. */
export const cookieOf = async (claims: Claims, secret: string): Promise<string> =>
  `${sessionCookie(false).name}=${await sealSession(claims, secret)}`;
