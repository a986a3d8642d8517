'use client';

import { Dialog } from '@/app/_ui/dialog';
import { COMMANDS, spokenKeys } from '@/lib/review/commands';
import css from './bench.module.css';

const GROUPS = [...new Set(COMMANDS.map((command) => command.group))];

type Props = {
  isOpen: boolean;
  onClose: () => void;
  canSingleKeys: boolean;
  onSingleKeys: (isOn: boolean) => void;
};

/** Every command of the bench with its keys. */
export const HelpDialog = ({ isOpen, onClose, canSingleKeys, onSingleKeys }: Props) => (
  <Dialog isOpen={isOpen} onClose={onClose} title="Keys and commands" isLarge>
    <label className="acts">
      <input
        type="checkbox"
        checked={canSingleKeys}
        onChange={(event) => onSingleKeys(event.target.checked)}
      />
      Single letters and digits are keys
    </label>
    <div className={css.help}>
      {GROUPS.map((group) => (
        <section key={group}>
          <h3>{group}</h3>
          <dl>
            {COMMANDS.filter((command) => command.group === group).map((command) => (
              <div key={command.id}>
                <dt>{command.label}</dt>
                <dd>
                  {command.keys.map((keys) => (
                    <kbd key={keys}>{spokenKeys(keys)}</kbd>
                  ))}
                </dd>
              </div>
            ))}
          </dl>
        </section>
      ))}
    </div>
  </Dialog>
);
