import pino, { type DestinationStream } from 'pino';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Log } from '@/lib/workflows/ports';
import { env } from './env';

// The log tells what the program did, never what a person wrote or who they are: ids only.
const PRIVATE = [
  ...[
    'authorization',
    'cookie',
    'set-cookie',
    'password',
    'passwordHash',
    'secret',
    'token',
    'tokenHash',
    'signature',
  ],
  ...[
    'email',
    'toEmail',
    'to',
    'from',
    'name',
    'playerName',
    'birthDate',
    'ip',
    'url',
    'href',
    'callbackUrl',
  ],
  ...[
    'question',
    'painWhere',
    'body',
    'text',
    'html',
    'subject',
    'note',
    'fixFirst',
    'cue',
    'sheet',
    'fileName',
  ],
];
const DEPTHS = ['', '*.', '*.*.', '*.*.*.'];
const PATHS = DEPTHS.flatMap((depth) =>
  PRIVATE.map((key) => (/^\w+$/.test(key) ? `${depth}${key}` : `${depth.replace(/\.$/, '')}["${key}"]`)),
);

// Whatever gets into a sentence all the same, say the text of somebody else's error.
const SCRUBS: readonly (readonly [RegExp, string])[] = [
  [/[\w.+-]+@[\w-]+(\.[\w-]+)+/g, '[e-mail]'],
  [/([?&](?:signature|sig|token|code|x-ut-[\w-]+|callbackUrl|email)=)[^&"\\\s]+/gi, '$1[hidden]'],
  [/(\w+:\/\/[^:/\s"]+:)[^@\s"]+@/g, '$1[hidden]@'],
  [/(\/(?:invite|sign-in\/link)\/)[\w-]{16,}/g, '$1[hidden]'],
];

const scrub = (line: string) => SCRUBS.reduce((text, [pattern, by]) => text.replace(pattern, by), line);

const framesOf = (error: Error) =>
  (error.stack ?? '')
    .split('\n')
    .filter((line) => /^\s+at /.test(line))
    .join('\n');

/** An error for the log. The messages of these two kinds repeat what was entered, so their codes stand for them. */
const tellError = (error: unknown): unknown => {
  if (!(error instanceof Error)) return { type: typeof error };
  const cause = error.cause === undefined ? {} : { cause: tellError(error.cause) };
  if (error instanceof CagepostError) {
    return { type: error.name, fault: error.fault, detail: error.detail, stack: framesOf(error), ...cause };
  }
  const code = 'code' in error ? { code: error.code } : {};
  if (error.name.startsWith('PrismaClient'))
    return { type: error.name, ...code, stack: framesOf(error), ...cause };
  return { type: error.name, message: error.message, ...code, stack: framesOf(error), ...cause };
};

/** A log of JSON lines, private things left out; an error goes under the key `err`. */
export const createLog = (level: string, destination?: DestinationStream): Log =>
  pino(
    {
      level,
      base: null,
      timestamp: pino.stdTimeFunctions.isoTime,
      redact: { paths: PATHS, censor: '[hidden]' },
      serializers: { err: tellError },
      hooks: { streamWrite: scrub },
    },
    destination ?? pino.destination({ dest: 1, sync: true }),
  );

let made: Log | undefined;
const theLog = () => (made ??= createLog(env.LOG_LEVEL));

/** The log of this process, on the standard output. */
export const log: Log = {
  info: (facts, message) => theLog().info(facts, message),
  warn: (facts, message) => theLog().warn(facts, message),
  error: (facts, message) => theLog().error(facts, message),
};
