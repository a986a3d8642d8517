import type { ProgramFacts } from '@/lib/domain/lessons/lesson';
import type { Role, Viewer } from '@/lib/domain/people/viewer';
import { countUnread } from '@/lib/data/notices.read';
import { readProgram } from '@/lib/data/program.read';
import { readAuthor } from '@/lib/data/threads.read';
import { systemClock } from '@/lib/platform/clock';

/** What the head of a signed-in page needs, and the moment and zone that all its times are written in. */
export interface PageFrame {
  program: ProgramFacts & { price: { label: string; amountMinor: number; currency: string } | null };
  personName: string;
  roles: readonly Role[];
  /** How many notices the viewer has not read; counted up to a hundred. */
  unread: number;
  now: Date;
  timeZone: string;
}

/** Loads the frame of a page for its viewer. */
export async function pageFrame(viewer: Viewer): Promise<PageFrame> {
  const now = systemClock.now();
  const [program, person, unread] = await Promise.all([
    readProgram(viewer),
    readAuthor(viewer),
    countUnread(viewer, now),
  ]);
  return {
    program,
    personName: person.name,
    roles: viewer.roles,
    unread,
    now,
    timeZone: program.timeZone,
  };
}
