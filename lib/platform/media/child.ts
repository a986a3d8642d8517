import os from 'node:os';
import { AV_LOG_QUIET, AVERROR_ENOMEM, AVERROR_ENOSPC } from 'node-av/constants';
import { FFmpegError, Log } from 'node-av/lib';
import { encodeSound, joinVoice } from './join-voice';
import { MediaFault } from './media-fault';
import { jobSchema, type AnswerMessage, type DoneOutcome, type JobMessage } from './messages';
import { prepareFile } from './prepare-file';
import { renderFilm } from './render-film';

// The process in which files of strangers are opened. It knows no secret and no database, and whatever happens to it,
// its owner answers with a reasoned fault.

Log.setLevel(AV_LOG_QUIET);
try {
  // Pages and uploads come first.
  os.setPriority(os.constants.priority.PRIORITY_BELOW_NORMAL);
} catch {
  // Not every system lets a process do this, and nothing depends on it.
}

const say = (message: AnswerMessage) => {
  process.send?.(message);
};
const breathe = () => new Promise<void>((resolve) => setImmediate(resolve));

function faultOf(error: unknown): DoneOutcome {
  if (error instanceof MediaFault) return { ok: false, fault: error.fault, detail: error.message };
  const detail = error instanceof Error ? error.message : String(error);
  const code = error instanceof FFmpegError ? error.code : undefined;
  const system = error instanceof Error && 'code' in error ? String(error.code) : '';
  if (code === AVERROR_ENOSPC || system === 'ENOSPC' || system === 'EDQUOT')
    return { ok: false, fault: 'disk-full', detail };
  if (code === AVERROR_ENOMEM) return { ok: false, fault: 'out-of-memory', detail };
  return { ok: false, fault: 'unreadable', detail };
}

async function doWork({ job, work }: JobMessage): Promise<unknown> {
  if (work.kind === 'voice') return joinVoice(work);
  if (work.kind === 'sound') return encodeSound(work);
  let percent = 0;
  let saidAt = 0;
  const alive = async (now: number) => {
    const whole = Math.max(percent, Math.min(99, Math.floor(now)));
    if (whole > percent || Date.now() - saidAt > 1000) {
      percent = whole;
      saidAt = Date.now();
      say({ kind: 'alive', job, percent });
    }
    // The only place where the owner's goodbye is heard in the middle of a file.
    await breathe();
  };
  if (work.kind === 'film') return renderFilm(work, alive);
  return prepareFile(work, { alive, original: (facts) => say({ kind: 'original', job, facts }) });
}

async function run(message: unknown): Promise<void> {
  const job = jobSchema.parse(message);
  const outcome = await doWork(job)
    .then((facts): DoneOutcome => ({ ok: true, facts }))
    .catch(faultOf);
  say({ kind: 'done', job: job.job, outcome });
}

process.on('message', (message) => void run(message));
process.on('disconnect', () => process.exit(0));
say({ kind: 'ready' });
