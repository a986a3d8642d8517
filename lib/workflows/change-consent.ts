import { writeAudit } from '@/lib/data/audit.write';
import { giveConsent, withdrawConsent } from '@/lib/data/consents.write';
import { transaction } from '@/lib/data/transaction';
import { CHOICE_METHOD, CHOICE_VERSION, type Scope } from '@/lib/domain/consents/consent';
import { CONSENT_VERSION } from '@/lib/domain/people/safeguarding';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** A guardian, or a grown player, gives one consent for a year or takes it back. It holds from the next write on. */
export async function changeConsent(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  { playerId, scope, isGiven }: { playerId: PersonId; scope: Scope; isGiven: boolean },
): Promise<void> {
  const version = scope === 'lessons' ? CONSENT_VERSION : CHOICE_VERSION;
  const agreed = { playerId, scope, version, method: CHOICE_METHOD };
  await transaction(viewer, async (tx) => {
    await (isGiven ? giveConsent : withdrawConsent)(viewer, tx, agreed, clock.now());
    await writeAudit(viewer, tx, {
      action: isGiven ? 'consent.given' : 'consent.withdrawn',
      subject: `person:${playerId}`,
      data: { scope, version },
    });
  });
}
