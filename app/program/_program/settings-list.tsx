import Link from 'next/link';
import type { readChecklist } from '@/lib/data/program.read';
import { cancellationWords } from '@/lib/domain/billing/policy';
import { promiseWords, weekWords } from '@/lib/domain/desk/hours-words';
import type { ProgramFacts } from '@/lib/domain/lessons/lesson';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';

type Props = {
  viewer: Viewer;
  program: ProgramFacts;
  checklist: Awaited<ReturnType<typeof readChecklist>>;
  concerns: number;
};

type Setting = { path: string; name: string; now: string; forLeads?: true };

/** Every part of how the program works with its present state, each a link to where it is read or changed. */
export const SettingsList = ({ viewer, program, checklist, concerns }: Props) => {
  const { hours, promiseHours, policy } = program;
  const settings: Setting[] = [
    { path: '/people', name: 'People', now: 'Who is what, guardians, checks of coaches, invitations.' },
    {
      path: '/people/invitations',
      name: 'Invite many',
      now: 'A table of people, looked at row by row before anything is sent.',
      forLeads: true,
    },
    {
      path: '/program/billing',
      name: 'Prices, packs and what is owed',
      now: `Due after ${policy.dueDays} days. ${cancellationWords(policy)}`,
      forLeads: true,
    },
    {
      path: '/program/checklist',
      name: 'Checklist',
      now: checklist
        ? `Version ${checklist.number} with ${checklist.items.length} items. Lessons keep the version they were begun with.`
        : 'None yet: lessons cannot be sent.',
    },
    { path: '/program/drills', name: 'Drills', now: 'What a coach can give to practise.' },
    {
      path: '/program/hours',
      name: 'Working hours',
      now: `An answer within ${promiseWords(promiseHours, hours)}. ${
        hours ? `Work is done ${weekWords(hours.week)}.` : 'Lessons are answered round the clock.'
      }`,
    },
    { path: '/program/retention', name: 'How long things are kept', now: 'Days for each kind of thing.' },
    {
      path: '/concerns',
      name: 'Concerns',
      now:
        concerns === 0 ? 'None is open.' : `${concerns} ${concerns === 1 ? 'waits' : 'wait'} for an answer.`,
      forLeads: true,
    },
  ];
  return (
    <ul className="ruled read">
      {settings
        .filter((one) => !one.forLeads || isLead(viewer))
        .map(({ path, name, now }) => (
          <li key={path}>
            <p>
              <Link href={path}>{name}</Link>
            </p>
            <p className="small soft">{now}</p>
          </li>
        ))}
    </ul>
  );
};
