import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';

/** True while a process with this number exists, whoever owns it. */
export const isAlive = (pid) => {
  try {
    process.kill(pid, 0);
  } catch (error) {
    return error.code === 'EPERM';
  }
  return !isZombie(pid);
};

// A process that ended and waits for its parent still has its number; in a container without an init it keeps it.
const isZombie = (pid) => {
  try {
    return / Z /.test(readFileSync(`/proc/${pid}/stat`, 'utf8').replace(/^.*\)/s, ''));
  } catch {
    return false;
  }
};

/**
 * Which process has this number now: numbers are given out again after a restart of the machine, starts in time are not.
 * Empty where the system does not tell.
 */
export const startOf = (pid) => {
  try {
    const afterName = readFileSync(`/proc/${pid}/stat`, 'utf8').replace(/^.*\) /s, '');
    const boot = readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
    return `${boot}/${afterName.split(' ')[19]}`;
  } catch {
    const told = spawnSync('ps', ['-o', 'lstart=', '-p', String(pid)], { encoding: 'utf8' });
    return told.status === 0 ? told.stdout.trim() : '';
  }
};
