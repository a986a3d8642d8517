import type { PackOnPage } from '@/lib/data/packs.read';
import { packLeft } from '@/lib/domain/billing/packs';
import { Moment } from './moment';
import { BillingWord } from './money';

type Props = { pack: PackOnPage; now: Date; timeZone: string; withPayer?: boolean };

/** One pack: what is left of it, until when, and whether it is paid. */
export const PackLine = ({ pack, now, timeZone, withPayer = false }: Props) => {
  const left = packLeft(pack);
  const isOver = pack.validUntil < now;
  return (
    <>
      <p>
        <b>{pack.label}</b>
        {withPayer ? <span className="soft">, {pack.payer.name}</span> : null}:{' '}
        {left === 0 ? 'used up' : `${left} of ${pack.lessons} lessons left`}
      </p>
      <p className="small soft">
        Sold <Moment at={pack.soldAt} now={now} timeZone={timeZone} as="day" />,{' '}
        {isOver ? 'was valid until' : 'valid until'}{' '}
        <Moment at={pack.validUntil} now={now} timeZone={timeZone} as="day" />,{' '}
        <BillingWord
          status={pack.account.status}
          dueMinor={pack.account.owedMinor}
          currency={pack.currency}
        />
      </p>
    </>
  );
};
