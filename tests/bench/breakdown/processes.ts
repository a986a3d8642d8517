import { execFileSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';

const ticksPerSecond = Number(execFileSync('getconf', ['CLK_TCK']).toString());

/** Seconds of processor time that all living processes of a group have used (Linux, proc(5): fields 5, 14 and 15). */
export const cpuSecondsOf = (group: number): number => {
  let ticks = 0;
  for (const pid of readdirSync('/proc')) {
    if (!/^\d+$/.test(pid)) continue;
    try {
      const line = readFileSync(`/proc/${pid}/stat`, 'utf8');
      // The name in brackets may hold spaces: what follows it begins with field 3.
      const fields = line.slice(line.lastIndexOf(')') + 2).split(' ');
      if (Number(fields[2]) === group) ticks += Number(fields[11]) + Number(fields[12]);
    } catch {
      // It ended while the list was read.
    }
  }
  return ticks / ticksPerSecond;
};
