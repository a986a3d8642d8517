import type { ProgramFacts } from '@/lib/domain/lessons/lesson';
import type { Role, Viewer } from '@/lib/domain/people/viewer';
import { readProgram } from '@/lib/data/program.read';
import { readAuthor } from '@/lib/data/threads.read';
import { systemClock } from '@/lib/platform/clock';

/** What the head of a signed-in page needs, and the moment and zone that all its times are written in. */
export interface PageFrame {
  program: ProgramFacts & { price: { label: string; amountMinor: number; currency: string } | null };
  personName: string;
  roles: readonly Role[];
  now: Date;
  timeZone: string;
}

/** Loads the frame of a page for its viewer. */
export async function pageFrame(viewer: Viewer): Promise<PageFrame> {
  const [program, person] = await Promise.all([readProgram(viewer), readAuthor(viewer)]);
  return {
    program,
    personName: person.name,
    roles: viewer.roles,
    now: systemClock.now(),
    timeZone: program.timeZone,
  };
}
