import { readFileSync } from 'node:fs';
import { isAlive } from './alive.mjs';

const parentOf = (pid) => {
  try {
    return Number(
      readFileSync(`/proc/${pid}/stat`, 'utf8')
        .replace(/^.*\) /s, '')
        .split(' ')[1],
    );
  } catch {
    return 0;
  }
};

const nameOf = (pid) => {
  try {
    return readFileSync(`/proc/${pid}/comm`, 'utf8').trim();
  } catch {
    return '';
  }
};

/**
 * Calls back once when npm, which started us, or the shell in between is gone without having told us (it was killed):
 * nobody could end us by Ctrl-C any more. Does nothing without npm.
 */
export function watchParents(onGone) {
  if (!process.env.npm_lifecycle_event) return;
  const shellOrNpm = process.ppid;
  const isShell = /^(ba|da|z)?sh$/.test(nameOf(shellOrNpm));
  const npm = isShell ? parentOf(shellOrNpm) : shellOrNpm;
  const timer = setInterval(() => {
    const isThere = process.ppid === shellOrNpm && (npm <= 1 || isAlive(npm));
    if (isThere) return;
    clearInterval(timer);
    onGone();
  }, 500);
  timer.unref();
}
