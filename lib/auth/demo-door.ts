import { listDemoPeople, type DemoPerson } from '@/lib/data/sign-in.system';
import { asSystem } from './system';
import { authSettings } from './settings';

/** Who may be looked around as, by name; null where there is no demo door. */
export const peopleBehindDemoDoor = async (): Promise<DemoPerson[] | null> =>
  authSettings().isDemoDoorOpen ? listDemoPeople(asSystem('sign-in')) : null;
