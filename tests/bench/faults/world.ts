import { prisma } from '@/lib/data/client';
import { buildCoach, buildLead, buildPlayer, buildProgram } from '../../support/build';
import { buildPackPrice } from '../../support/build-money';
import { cookieOf } from '../../support/action-client';
import { claimsOf } from '../../support/viewers';

/** Somebody who asks: the id and the cookie of a session. */
export interface Asker {
  id: string;
  cookie: string;
}

/** A program with grown players who pay for themselves, two coaches and two leads, all of them signed in. */
export interface World {
  programId: string;
  players: Asker[];
  coaches: Asker[];
  leads: Asker[];
  packPriceId: string;
}

const times = <T>(count: number, make: () => Promise<T>): Promise<T[]> =>
  Array.from({ length: count }).reduce<Promise<T[]>>(
    async (made) => [...(await made), await make()],
    Promise.resolve([]),
  );

/** Fills the database of this process with it. */
export async function makeWorld(players: number, secret: string): Promise<World> {
  const program = await buildProgram({ promiseHours: 48 });
  const asker = async (person: { id: string }) => ({
    id: person.id,
    cookie: await cookieOf(await claimsOf(person, program), secret),
  });
  const packPrice = await buildPackPrice(program);
  const world = {
    programId: program.id,
    players: await times(players, async () => asker(await buildPlayer(program))),
    coaches: await times(2, async () => asker(await buildCoach(program))),
    leads: await times(2, async () => asker(await buildLead(program))),
    packPriceId: packPrice.id,
  };
  await prisma.$disconnect();
  return world;
}
