import { daysInWords, RETENTION, RETENTION_CLASSES, type Deadlines } from '@/lib/domain/privacy/retention';

/** What is kept how long, for those who only read it. */
export const DeadlineList = ({ deadlines }: { deadlines: Deadlines }) => (
  <ul className="ruled small">
    {RETENTION_CLASSES.map((name) => (
      <li key={name}>
        <b>{RETENTION[name].title}</b>: {daysInWords(deadlines[name])} {RETENTION[name].from}.{' '}
        <span className="soft">{RETENTION[name].goes}</span>
      </li>
    ))}
  </ul>
);
