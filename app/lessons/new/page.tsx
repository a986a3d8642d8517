import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { requireViewer } from '@/app/_server/viewer';
import { readChecklist } from '@/lib/data/program.read';
import { listClips } from '@/lib/data/clips.read';
import { listGiven } from '@/lib/data/practice.read';
import { listDrafts, readDraft, readSendSetting } from '@/lib/data/lessons.read';
import type { AssignmentId } from '@/lib/domain/drills/drill';
import { sendsFor, type Viewer } from '@/lib/domain/people/viewer';
import type { LessonId, PersonId } from '@/lib/domain/shared/ids';
import { anId } from '@/lib/domain/shared/ids';
import { ChoosePlayer, NobodyToSendFor } from './_send/choose-player';
import { SendGate } from './_send/send-gate';

export const metadata: Metadata = { title: 'Send a swing' };

type Query = { [key: string]: string | string[] | undefined };

const idIn = <Id extends string>(query: Query, name: string): Id | null => {
  const parsed = anId<Id>().safeParse(query[name]);
  return parsed.success ? parsed.data : null;
};

/** The unsent lesson to go on with: the one that was asked for, else the latest of this player. */
const keptDraft = async (viewer: Viewer, playerId: PersonId, asked: LessonId | null) => {
  const lessonId = asked ?? (await listDrafts(viewer, playerId))[0]?.id;
  const found = lessonId ? await readDraft(viewer, lessonId) : null;
  return found && lessonId && found.playerId === playerId ? { lessonId, ...found } : null;
};

export default async function SendASwing({ searchParams }: { searchParams: Promise<Query> }) {
  const query = await searchParams;
  const viewer = await requireViewer(backTo(query));
  const now = new Date();
  const players = sendsFor(viewer);
  const playerId = idIn<PersonId>(query, 'player') ?? (players.length === 1 ? players[0] : undefined);
  if (!playerId) {
    const settings = await Promise.all(players.map((id) => readSendSetting(viewer, id, now)));
    const known = settings.flatMap((setting) => (setting ? [setting] : []));
    if (known.length === 0) return <NobodyToSendFor />;
    return <ChoosePlayer players={known.map((one) => one.player)} viewerId={viewer.personId} />;
  }
  const setting = players.includes(playerId) ? await readSendSetting(viewer, playerId, now) : null;
  if (!setting) notFound();

  const [kept, checklist] = await Promise.all([
    keptDraft(viewer, playerId, idIn<LessonId>(query, 'draft')),
    readChecklist(viewer),
  ]);
  const stored = kept ? await listClips(viewer, kept.lessonId) : [];
  const answersId = idIn<AssignmentId>(query, 'answers');
  const given = answersId ? await listGiven(viewer, { playerId }) : [];
  const answered = given.find((one) => one.id === answersId);
  const asked = answered?.lesson.id ?? idIn<LessonId>(query, 'follows');
  const followed = setting.canFollow.find((lesson) => lesson.id === asked);
  return (
    <SendGate
      setting={{
        ...setting,
        player: { id: setting.player.id, name: setting.player.name, bats: setting.player.bats },
        viewerId: viewer.personId,
        answersId: answered?.id ?? null,
        isForOther: playerId !== viewer.personId,
        checklist: checklist?.items ?? [],
      }}
      kept={kept}
      follows={{ id: (followed ?? setting.canFollow[0])?.id ?? null, isAsked: followed !== undefined }}
      stored={stored}
      now={now}
    />
  );
}

const backTo = (query: Query) => {
  const kept = new URLSearchParams();
  for (const name of ['player', 'follows', 'answers', 'draft']) {
    const value = query[name];
    if (typeof value === 'string') kept.set(name, value);
  }
  return `/lessons/new${kept.size > 0 ? `?${kept}` : ''}`;
};
