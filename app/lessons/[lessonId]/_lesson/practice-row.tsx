import Link from 'next/link';
import { Row } from '@/app/_ui/page-grid';
import { GivenDrill } from '@/app/practice/_practice/given-drill';
import css from '@/app/practice/_practice/practice.module.css';
import { PausePart } from '@/app/practice/_practice/pause-part';
import type { Given } from '@/lib/domain/drills/given';
import type { Day } from '@/lib/domain/people/age';

type Props = {
  given: readonly Given[];
  today: Day;
  isStaff: boolean;
  isSender: boolean;
  /** The viewer may say for the player that a clinician cleared practice. */
  maySayCleared: boolean;
};

/** What the lesson gives to practise, and what came of it. */
export const PracticeRow = ({ given, today, isStaff, isSender, maySayCleared }: Props) => {
  const [first] = given;
  if (!first) return null;
  const isOpen = given.some((one) => one.endedAt === null && one.pausedAt === null);
  return (
    <Row label="Practice" id="practice">
      <div className="stack">
        <PausePart
          playerId={first.player.id}
          playerName={first.player.name}
          given={given}
          isStaff={isStaff}
          maySayCleared={maySayCleared}
        />
        {isSender && isOpen ? (
          <p className="acts">
            <Link className="btn" href={`/practice?player=${first.player.id}`}>
              Practise and check in
            </Link>
          </p>
        ) : null}
        <div className={css.drills}>
          {given.map((one) => (
            <GivenDrill key={one.id} given={one} today={today} />
          ))}
        </div>
      </div>
    </Row>
  );
};
