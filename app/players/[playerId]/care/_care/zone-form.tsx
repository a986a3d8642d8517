'use client';

import { useRouter } from 'next/navigation';
import { SelectField } from '@/app/_ui/field';
import { Notice } from '@/app/_ui/notice';
import { useFormAction } from '@/app/_ui/use-form-action';
import { setZone } from '../actions';

type Props = {
  playerId: string;
  timeZone: string | null;
  programZone: string;
  zones: readonly string[];
};

/** In which zone the player lives; quiet hours follow it. */
export const ZoneForm = ({ playerId, timeZone, programZone, zones }: Props) => {
  const router = useRouter();
  const { isBusy, answer, refused, fault, submit } = useFormAction(setZone, () => router.refresh());
  return (
    <form className="stack tight read" onSubmit={submit}>
      {refused && <Notice kind="refused">{refused}</Notice>}
      {answer?.ok && <Notice kind="done">Kept.</Notice>}
      <input type="hidden" name="playerId" value={playerId} />
      <SelectField
        label="The player lives in"
        name="timeZone"
        defaultValue={timeZone ?? ''}
        error={fault('timeZone')}
      >
        <option value="">The program’s zone, {programZone}</option>
        {zones.map((zone) => (
          <option key={zone} value={zone}>
            {zone}
          </option>
        ))}
      </SelectField>
      <div className="acts">
        <button className="btn small" disabled={isBusy}>
          Keep the zone
        </button>
      </div>
    </form>
  );
};
