import { v7 as uuid } from 'uuid';
import type { Mailer, Passwords, Queue, Storage } from '@/lib/workflows/ports';
import { listen } from './auth-client';

/**
 * Ports for workflow tests: a clock that stands where it is put, mail, jobs and removed
 * files that are only noted, quick passwords.
 */
export function fakePorts(start = new Date()) {
  let now = start;
  const mails: Parameters<Mailer['send']>[0][] = [];
  const jobs: string[] = [];
  const queue: Queue = {
    prepareClip: async (clipId) => void jobs.push(`prepare ${clipId}`),
    drainOutbox: async () => void jobs.push('drain'),
    workOnBreakdown: async ({ kind, breakdownId }) => void jobs.push(`${kind} ${breakdownId}`),
    renderExport: async (exportId) => void jobs.push(`export ${exportId}`),
    makeCopy: async (copyId) => void jobs.push(`copy ${copyId}`),
  };
  const removedFiles: string[] = [];
  const noFiles = () => Promise.reject(new Error('These ports hold no files.'));
  const storage: Storage = {
    put: noFiles,
    read: noFiles,
    size: noFiles,
    local: noFiles,
    list: noFiles,
    remove: async (prefix) => void removedFiles.push(prefix),
  };
  const passwords: Passwords = {
    hash: async (password) => `hash of ${password}`,
    matches: async (kept, password) => kept === `hash of ${password}`,
    isGuessable: (password) => password === 'everybody knows this',
  };
  return {
    clock: { now: () => now },
    later: (milliseconds: number) => void (now = new Date(now.getTime() + milliseconds)),
    ids: { uuid: () => uuid(), token: () => `token-${uuid()}` },
    log: listen(),
    mailer: { send: async (mail: Parameters<Mailer['send']>[0]) => void mails.push(mail) },
    mails,
    jobs,
    queue,
    removedFiles,
    storage,
    passwords,
  };
}
