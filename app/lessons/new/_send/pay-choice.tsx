'use client';

import { ChoiceGroup } from '@/app/_ui/choice-group';
import { Money } from '@/app/_ui/money';
import { dayWords } from '@/app/_ui/moment';
import { cancellationWords } from '@/lib/domain/billing/policy';
import { packLeft } from '@/lib/domain/billing/packs';
import type { PackId } from '@/lib/domain/shared/ids';
import type { SendSetting } from './send-types';
import styles from './send.module.css';

type Props = {
  setting: SendSetting;
  now: Date;
  /** The pack that pays for this lesson; null: it is paid by itself. */
  packId: PackId | null;
  onPack: (packId: PackId | null) => void;
};

const BY_ITSELF = 'by-itself';

/** What the lesson costs, and whether a pack of the family pays for it: with what is left, before and after. */
export const PayChoice = ({ setting, now, packId, onPack }: Props) => {
  const { program, price, packs } = setting;
  if (!price || price.amountMinor === 0) {
    return (
      <div className={styles.terms}>
        <p className="slab">No charge.</p>
      </div>
    );
  }
  const chosen = packs.find((pack) => pack.id === packId);
  return (
    <div className={styles.terms}>
      {packs.length === 0 ? (
        <p className="slab">
          <Money minor={price.amountMinor} currency={price.currency} />
          {price.label && `, ${price.label.toLowerCase()}`}
        </p>
      ) : (
        <ChoiceGroup<string>
          legend="How is it paid?"
          name="pack"
          value={packId ?? BY_ITSELF}
          onChange={(value) => onPack(packs.find((pack) => pack.id === value)?.id ?? null)}
          choices={[
            ...packs.map((pack) => ({
              value: pack.id as string,
              isWhole: true,
              label: (
                <>
                  From the pack “{pack.label}”: {packLeft(pack)} of {pack.lessons} left, valid until{' '}
                  {dayWords(pack.validUntil, now, program.timeZone)}
                </>
              ),
            })),
            {
              value: BY_ITSELF,
              isWhole: true,
              label: (
                <>
                  By itself: <Money minor={price.amountMinor} currency={price.currency} />
                </>
              ),
            },
          ]}
        />
      )}
      <p className="small soft">
        {chosen
          ? `After this lesson ${packLeft(chosen) - 1} of ${chosen.lessons} are left in the pack.`
          : program.howToPay || 'Your program tells you how to pay. Nothing is taken now.'}
      </p>
      <p className="small soft">{cancellationWords(program.policy)}</p>
      {program.policy.terms && <p className="small soft">{program.policy.terms}</p>}
    </div>
  );
};
