import type { Hand, Role } from '../../lib/data/generated/enums';

/** Somebody of the demo. Ages are given in years so that the demo does not grow old. */
export interface DemoPerson {
  key: string;
  name: string;
  roles: Role[];
  email: string | null;
  age: number | null;
  bats?: Hand;
  /** Keys of their guardians; `unconfirmed` ones were named by the player and nobody has confirmed them. */
  guardians?: { key: string; isConfirmed: boolean; isPaused?: boolean }[];
  /** Stands on the demo page, to be entered by one click. */
  isDoor: boolean;
}

const mail = (name: string) => `${name}@quarrystreet.example`;

// An invented academy. Nobody of them exists; `.example` addresses cannot receive mail (RFC 2606).
export const DEMO_PEOPLE: DemoPerson[] = [
  {
    key: 'noor',
    name: 'Noor Haddad',
    roles: ['lead', 'coach'],
    email: mail('noor'),
    age: null,
    isDoor: true,
  },
  {
    key: 'deshawn',
    name: 'Deshawn Ellery',
    roles: ['coach'],
    email: mail('deshawn'),
    age: null,
    isDoor: true,
  },
  { key: 'pilar', name: 'Pilar Quintero', roles: ['coach'], email: mail('pilar'), age: null, isDoor: true },
  {
    key: 'renata',
    name: 'Renata Voss',
    roles: ['player'],
    email: mail('renata'),
    age: 27,
    bats: 'right',
    isDoor: true,
  },
  {
    key: 'caleb',
    name: 'Caleb Okafor',
    roles: ['player'],
    email: mail('caleb'),
    age: 15,
    bats: 'right',
    guardians: [{ key: 'ngozi', isConfirmed: true }],
    isDoor: true,
  },
  { key: 'ngozi', name: 'Ngozi Okafor', roles: ['guardian'], email: mail('ngozi'), age: null, isDoor: true },
  {
    key: 'mina',
    name: 'Mina Castellano',
    roles: ['player'],
    email: null,
    age: 11,
    bats: 'left',
    guardians: [{ key: 'joel', isConfirmed: true }],
    isDoor: false,
  },
  { key: 'joel', name: 'Joel Castellano', roles: ['guardian'], email: mail('joel'), age: null, isDoor: true },
  {
    key: 'ezra',
    name: 'Ezra Whitlock',
    roles: ['player'],
    email: mail('ezra'),
    age: 22,
    bats: 'right',
    isDoor: false,
  },
  {
    key: 'tobias',
    name: 'Tobias Lund',
    roles: ['player'],
    email: mail('tobias'),
    age: 17,
    bats: 'right',
    isDoor: false,
  },
  {
    key: 'harriet',
    name: 'Harriet Pell',
    roles: ['player'],
    email: mail('harriet'),
    age: 14,
    bats: 'right',
    guardians: [{ key: 'simon', isConfirmed: true }],
    isDoor: false,
  },
  { key: 'simon', name: 'Simon Pell', roles: ['guardian'], email: mail('simon'), age: null, isDoor: false },
  {
    key: 'june',
    name: 'June Abara',
    roles: ['player'],
    email: null,
    age: 10,
    bats: 'left',
    guardians: [{ key: 'ada', isConfirmed: true }],
    isDoor: false,
  },
  { key: 'ada', name: 'Ada Abara', roles: ['guardian'], email: mail('ada'), age: null, isDoor: false },
  {
    key: 'milo',
    name: 'Milo Brandt',
    roles: ['player'],
    email: mail('milo'),
    age: 16,
    bats: 'right',
    guardians: [{ key: 'anke', isConfirmed: true, isPaused: true }],
    isDoor: false,
  },
  { key: 'anke', name: 'Anke Brandt', roles: ['guardian'], email: mail('anke'), age: null, isDoor: false },
];
