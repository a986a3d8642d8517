import Link from 'next/link';
import { EmptyState } from '@/app/_ui/empty-state';
import { Icon } from '@/app/_ui/icon';
import { Page, PageHead } from '@/app/_ui/page-grid';
import { TopBar } from '@/app/_ui/top-bar';
import type { PersonId } from '@/lib/domain/shared/ids';
import styles from './send.module.css';

type Props = { players: { id: PersonId; name: string }[]; viewerId: PersonId };

/** For a guardian with more than one player: whose swing is it? */
export const ChoosePlayer = ({ players, viewerId }: Props) => (
  <>
    <TopBar programName="Send a swing" />
    <Page kind="narrow">
      <PageHead title="Whose swing is it?" />
      <ul className={styles.choose}>
        {players.map(({ id, name }) => (
          <li key={id}>
            <Link className="btn big wide" href={`/lessons/new?player=${id}`}>
              {id === viewerId ? `${name} (you)` : name}
              <Icon name="right" />
            </Link>
          </li>
        ))}
      </ul>
    </Page>
  </>
);

/** For people who play for nobody here and guard nobody: coaches, say. */
export const NobodyToSendFor = () => (
  <>
    <TopBar programName="Send a swing" />
    <Page kind="narrow">
      <EmptyState title="Swings are sent by players and their guardians.">
        <p>
          You are neither in this program, so there is nobody to send for. If you look after a player, ask the
          program to invite you as a guardian.
        </p>
        <Link className="btn" href="/">
          Go to the first page
        </Link>
      </EmptyState>
    </Page>
  </>
);
