import type { Metadata } from 'next';
import Link from 'next/link';
import { notFound, redirect } from 'next/navigation';
import * as z from 'zod';
import { pageFrame } from '@/app/_server/page-frame';
import { comparedMeasures, comparedSide } from '@/app/_server/compared-sides';
import { measuredSwings } from '@/app/_server/measured-swings';
import { ports } from '@/app/_server/ports';
import { requireViewer } from '@/app/_server/viewer';
import { EmptyState } from '@/app/_ui/empty-state';
import { Page } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { PlayersOf } from '@/app/lessons/_swing/players';
import { listSwings, readSwing } from '@/lib/data/progress.read';
import { CHECKPOINTS } from '@/lib/domain/checkpoints/checkpoint';
import { nearestPartner } from '@/lib/domain/progress/partner';
import { isStaff } from '@/lib/domain/people/viewer';
import { anId, type ClipId } from '@/lib/domain/shared/ids';
import { noteShown } from '@/lib/workflows/note-shown';
import { Compare } from './_compare/compare';
import css from './_compare/compare.module.css';
import { choicesOf, comparableClips } from './_compare/choices';

export const metadata: Metadata = { title: 'Side by side' };

const query = z.object({
  a: anId<ClipId>().optional().catch(undefined),
  b: anId<ClipId>().optional().catch(undefined),
  at: z.enum(CHECKPOINTS).catch('foot_strike'),
  mirror: z.literal('1').optional().catch(undefined),
});

type Search = Promise<Record<string, string | string[] | undefined>>;

/** Two clips of one player side by side. With one clip in the address the page finds the other. */
export default async function ComparePage({ searchParams }: { searchParams: Search }) {
  const given = await searchParams;
  const { a, b, at, mirror } = query.parse(given);
  const back = new URLSearchParams({ ...(a && { a }), ...(b && { b }), at, ...(mirror && { mirror }) });
  const viewer = await requireViewer(`/compare?${back.toString()}`);
  const [one, two] = await Promise.all([a ? readSwing(viewer, a) : null, b ? readSwing(viewer, b) : null]);
  const known = one ?? two;
  // A clip that is named and is not there is not found, even when the other one is.
  if (!known || (a && !one) || (b && !two)) notFound();
  for (const swing of [one, two].filter((found) => found !== null)) {
    await noteShown(ports, viewer, { playerId: swing.player.id, what: 'lesson', id: swing.lessonId });
  }
  const frame = await pageFrame(viewer);
  const { now, timeZone } = frame;
  const swings = await listSwings(viewer, known.player.id);
  const inReach = [one, two].filter((swing) => swing !== null);
  const all = [
    ...swings,
    ...inReach.filter((swing) => !swings.some((other) => other.lessonId === swing.lessonId)),
  ];

  const page = (content: React.ReactNode) => (
    <>
      <FrameBar frame={frame} current={isStaff(viewer) ? 'players' : 'lessons'} />
      <Page kind="broad">{content}</Page>
    </>
  );
  const cannot = (title: string, words: string) =>
    page(
      <>
        <h1 className="sr">Side by side</h1>
        <EmptyState title={title}>
          <p>{words}</p>
          {inReach.map((swing) => (
            <p key={swing.lessonId}>
              <Link href={`/lessons/${swing.lessonId}`}>
                To lesson {swing.number} of {swing.player.name}
              </Link>
            </p>
          ))}
        </EmptyState>
      </>,
    );

  if (one && two && one.player.id !== two.player.id)
    return cannot(
      'Swings of two players',
      `These clips are of ${one.player.name} and of ${two.player.name}. Side by side holds swings of one player; nothing was changed.`,
    );
  if (a && a === b)
    return cannot('Twice the same clip', 'Choose another clip of the player to hold this one against.');
  if (!a || !b) {
    const clips = comparableClips(all);
    const mine = clips.find((clip) => clip.id === (a ?? b));
    const partner = mine && nearestPartner(mine, clips, at);
    if (!mine)
      return cannot(
        'A clip that is not ready',
        'This clip is still being prepared or could not be used. Its lesson tells how far it is.',
      );
    if (!partner)
      return cannot(
        'Nothing to compare yet',
        'This is the only clip so far. The next swing that is sent can stand beside it.',
      );
    const [then, next] =
      partner.lessonNumber <= mine.lessonNumber ? [partner.id, mine.id] : [mine.id, partner.id];
    redirect(
      `/compare?${new URLSearchParams({ a: then, b: next, at, ...(mirror && { mirror }) }).toString()}`,
    );
  }

  const measured = await measuredSwings(inReach);
  const of = (swing: typeof one) => measured.find((lesson) => lesson.lessonId === swing?.lessonId);
  const left = one && comparedSide(viewer, one, a, of(one), frame);
  const right = two && comparedSide(viewer, two, b, of(two), frame);
  if (!left || !right)
    return cannot(
      'A clip that is not ready',
      'One of these clips is still being prepared or could not be used. Its lesson tells how far it is.',
    );
  const sides = { a: left, b: right };
  return page(
    <>
      <header className={css.intro}>
        <h1>{known.player.name}, side by side</h1>
        <p className="small">
          <Link href={`/lessons/${sides.a.lessonId}`}>Lesson {sides.a.number}</Link>, then{' '}
          <Link href={`/lessons/${sides.b.lessonId}`}>lesson {sides.b.number}</Link>.{' '}
          <Link href={`/players/${known.player.id}`}>All lessons of {known.player.name}</Link>
        </p>
        {handWords(sides.a.bats, sides.b.bats, mirror !== undefined)}
      </header>
      <PlayersOf key={`${a} ${b}`} clips={[sides.a.clip, sides.b.clip]}>
        <Compare
          {...sides}
          choices={choicesOf(all, now, timeZone)}
          measures={comparedMeasures(of(one), of(two), { a, b })}
          at={at}
          isMirrored={mirror !== undefined}
        />
      </PlayersOf>
    </>,
  );
}

const handWords = (one: string | null, two: string | null, isMirrored: boolean) =>
  one && two && one !== two && !isMirrored ? (
    <p className="small soft">
      The first swing is batted {one}, the second {two}: mirror the second to see both from the same side.
    </p>
  ) : null;
