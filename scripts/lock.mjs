// A lock file that outlives no process: it names its holder, and the lock of a dead holder is taken over.
import { linkSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { isAlive, startOf } from './alive.mjs';

const read = (file) => {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return null;
  }
};

const holderOf = (text) => {
  const [pid, start] = text.split('\n');
  return isAlive(Number(pid)) && startOf(Number(pid)) === start ? Number(pid) : null;
};

/**
 * Takes the lock, or tells who has it.
 * @returns {{release: () => void} | {holder: number}} `holder` is a process number
 */
export function takeLock(file) {
  const mine = `${process.pid}\n${startOf(process.pid)}\n`;
  const draft = `${file}.${process.pid}`;
  const release = () => {
    if (read(file) === mine) rmSync(file, { force: true });
  };
  writeFileSync(draft, mine);
  try {
    for (;;) {
      try {
        linkSync(draft, file); // appears with its content, or not at all
        return { release };
      } catch (error) {
        if (error.code !== 'EEXIST') throw error;
      }
      const found = read(file);
      if (found === null) continue; // let go of in between
      if (found === mine) return { release };
      const holder = holderOf(found);
      if (holder !== null) return { holder };
      dropStale(file, found);
    }
  } finally {
    rmSync(draft, { force: true });
  }
}

// Two starters may find the same dead holder. Moving is atomic: one of them gets it, and if it got hold of the fresh
// lock of the other, it gives that back.
function dropStale(file, stale) {
  const aside = `${file}.${process.pid}.stale`;
  try {
    renameSync(file, aside);
    if (read(aside) !== stale) linkSync(aside, file);
  } catch (error) {
    if (error.code !== 'ENOENT' && error.code !== 'EEXIST') throw error;
  } finally {
    rmSync(aside, { force: true });
  }
}
