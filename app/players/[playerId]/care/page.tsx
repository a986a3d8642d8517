import type { Metadata } from 'next';
import Link from 'next/link';
import { notFound } from 'next/navigation';
import { pageFrame } from '@/app/_server/page-frame';
import { requireViewer } from '@/app/_server/viewer';
import { Moment, dayWords } from '@/app/_ui/moment';
import { MoreLink, oneOf, type PageQuery } from '@/app/_ui/more-link';
import { Page, PageHead, Row } from '@/app/_ui/page-grid';
import { FrameBar } from '@/app/_ui/frame-bar';
import { listShown, type ShownLine } from '@/lib/data/audit.read';
import { listConsents } from '@/lib/data/consents.read';
import { readPlayer } from '@/lib/data/people.read';
import { CHOICE_WORDS, CHOICES, latestOf, standingOf, type Scope } from '@/lib/domain/consents/consent';
import { dayIn } from '@/lib/domain/people/age';
import { CONSENT_TEXT, isMinor } from '@/lib/domain/people/safeguarding';
import { SHOWN_WORDS } from '@/lib/domain/people/shown';
import { isLead, sendsFor } from '@/lib/domain/people/viewer';
import { anId, type PersonId } from '@/lib/domain/shared/ids';
import { ConsentItem } from './_care/consent-item';
import { ZoneForm } from './_care/zone-form';

export const metadata: Metadata = { title: 'Consent and care' };

const TITLE = (scope: string) =>
  scope === 'lessons' ? 'Lessons' : (CHOICE_WORDS[scope as keyof typeof CHOICE_WORDS]?.title ?? scope);

/** What was agreed to for a player, and who of the staff was shown what: for guardians, the player and leads. */
export default async function CarePage({
  params,
  searchParams,
}: {
  params: Promise<{ playerId: string }>;
  searchParams: Promise<PageQuery>;
}) {
  const [{ playerId }, query] = await Promise.all([params, searchParams]);
  const viewer = await requireViewer(`/players/${playerId}/care`);
  const id = anId<PersonId>().safeParse(playerId);
  const player = id.success ? await readPlayer(viewer, id.data) : null;
  if (!player || !(isLead(viewer) || sendsFor(viewer).includes(player.personId))) notFound();
  const [frame, records, shown] = await Promise.all([
    pageFrame(viewer),
    listConsents(viewer, player.personId),
    listShown(viewer, player.personId, { after: oneOf(query['shown']) }),
  ]);
  const { now, timeZone } = frame;
  const today = dayIn(timeZone, now);
  const isYoung = isMinor(player, today);
  const isGuardian = viewer.wards.includes(player.personId);
  const mayChange = isGuardian || (!isYoung && viewer.personId === player.personId);
  const speakers = isYoung
    ? player.guardians.filter((one) => one.isVerified).map((one) => one.personId)
    : [player.personId];
  const others = speakers.filter((one) => one !== viewer.personId);
  const nameOf = (byId: string) =>
    byId === player.personId
      ? player.name
      : (player.guardians.find((one) => one.personId === byId)?.name ?? 'Somebody who is gone');
  const item = (scope: Scope, title: string, text: string) => (
    <ConsentItem
      key={scope}
      scope={scope}
      title={title}
      text={text}
      playerId={player.personId}
      mine={latestOf(records, scope, [viewer.personId])[0] ?? null}
      isStoppedByOther={latestOf(records, scope, others).some(
        (one) => standingOf(one, today) === 'withdrawn',
      )}
      mayChange={mayChange}
      today={today}
      now={now}
      timeZone={timeZone}
    />
  );
  return (
    <>
      <FrameBar
        frame={frame}
        current={isGuardian || viewer.personId === player.personId ? 'lessons' : 'people'}
        isReading
      />
      <Page>
        <PageHead
          title="Consent and care"
          over={<Link href={`/players/${player.personId}`}>{player.name}</Link>}
        />
        {isYoung && (
          <Row label="Lessons">
            <ul className="ruled">{item('lessons', 'Lessons', CONSENT_TEXT)}</ul>
            {isGuardian && (
              <p className="small soft read">
                Taking it back closes the lessons to every adult of the program at once. What was sent and
                returned stays yours to read.
              </p>
            )}
          </Row>
        )}
        <Row label="Choices">
          <p className="read">
            Each of these is off until you turn it on, and none of them is needed for lessons. One guardian
            who says no counts for all.
          </p>
          <ul className="ruled">
            {CHOICES.map((scope) => item(scope, CHOICE_WORDS[scope].title, CHOICE_WORDS[scope].text))}
          </ul>
        </Row>
        <Row label="Kept">
          {records.length === 0 ? (
            <p>Nothing was agreed to or refused yet.</p>
          ) : (
            <ul className="small ruled">
              {records.map((one) => (
                <li key={one.id}>
                  {TITLE(one.scope)}:{' '}
                  {one.withdrawnAt?.getTime() === one.givenAt.getTime() ? 'refused' : 'given'} by{' '}
                  {nameOf(one.byId)} <Moment at={one.givenAt} now={now} timeZone={timeZone} />
                  {one.withdrawnAt && one.withdrawnAt.getTime() !== one.givenAt.getTime() && (
                    <>
                      , taken back <Moment at={one.withdrawnAt} now={now} timeZone={timeZone} />
                    </>
                  )}
                  {!one.withdrawnAt &&
                    one.expiresAt &&
                    `, ${one.expiresAt > now ? 'ends' : 'ended'} ${dayWords(one.expiresAt, now, timeZone)}`}
                  <span className="soft">
                    . Words of {one.version}, {METHOD_WORDS[one.method] ?? one.method}
                  </span>
                </li>
              ))}
            </ul>
          )}
        </Row>
        {isYoung && sendsFor(viewer).includes(player.personId) && (
          <Row label="Quiet hours">
            <p className="read">
              From 8 in the evening to 8 in the morning, notices to a player under 18 wait until the morning.
            </p>
            <ZoneForm
              playerId={player.personId}
              timeZone={player.timeZone}
              programZone={timeZone}
              zones={Intl.supportedValuesOf('timeZone')}
            />
          </Row>
        )}
        <Row label="Who saw what" id="shown">
          {shown.rows.length === 0 && shown.next === null ? (
            <p className="read">
              Nobody of the staff has opened anything yet. While the player is under 18, each opening is
              written down here, at most once an hour for the same thing.
            </p>
          ) : (
            <ul className="small ruled">
              {shown.rows.map((line) => (
                <li key={line.id}>
                  <Moment at={line.at} now={now} timeZone={timeZone} />: {line.name ?? 'A former coach'}.{' '}
                  <ShownThing line={line} />
                </li>
              ))}
            </ul>
          )}
          <MoreLink page={`/players/${player.personId}/care`} list="shown" next={shown.next} query={query}>
            Earlier openings
          </MoreLink>
        </Row>
        <Row label="The law">
          <p className="read">
            Cagepost keeps these records; it does not decide what the law asks. The program must follow its
            own law and the rules of its governing body.
          </p>
          {(isLead(viewer) || mayChange) && (
            <p>
              <Link href={`/everything/${player.personId}`}>
                What is kept of {player.name}: how long, a copy, and erasing it
              </Link>
            </p>
          )}
          <p>
            <Link href={`/concerns/new?player=${player.personId}`}>Raise a concern</Link>
          </p>
        </Row>
      </Page>
    </>
  );
}

const METHOD_WORDS: Record<string, string> = {
  'added-child': 'ticked when the child was added',
  'program-invitation': 'ticked when the invitation was accepted',
  'named-by-player': 'ticked by the guardian the player named, confirmed by a lead',
  'account-page': 'given on this page',
};

const ShownThing = ({ line }: { line: ShownLine }) =>
  line.what === 'lesson' ? (
    <Link href={`/lessons/${line.thingId}`}>{SHOWN_WORDS[line.what]}</Link>
  ) : (
    SHOWN_WORDS[line.what]
  );
