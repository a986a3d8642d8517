import { parseWithZod } from '@conform-to/zod/v4';
import { headers } from 'next/headers';
import { unstable_rethrow } from 'next/navigation';
import type * as z from 'zod';
import { clientIp } from '@/lib/auth/client-ip';
import { type LimitName, spend } from '@/lib/data/rate-limit';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Answer } from '@/lib/domain/shared/result';
import { log } from '@/lib/platform/log';
import { viewerOrRefuse } from './viewer';

/** What a form's action is: the shape that `useActionState` wants. */
export type FormAction<T> = (before: Answer<T> | null, form: FormData) => Promise<Answer<T>>;

type Refusal = Extract<Answer<never>, { ok: false }>;

/** A refusal as a screen shows it. What is no refusal of ours goes to the log, and the screen hears that it went wrong. */
export function refusalOf(error: unknown, action: string): Refusal {
  if (error instanceof CagepostError) {
    log.info({ action, fault: error.fault, detail: error.detail }, 'refused');
    return { ok: false, fault: error.fault, message: error.forPeople };
  }
  log.error({ action, err: error }, 'action failed');
  const message = 'Something went wrong on our side. Nothing was changed; please try again in a moment.';
  return { ok: false, fault: 'internal', message };
}

const invalid = (fields: Record<string, string[] | null> | null | undefined): Refusal => {
  const told = Object.entries(fields ?? {}).flatMap(([name, messages]) =>
    messages ? [[name, messages]] : [],
  );
  return {
    ok: false,
    fault: 'invalid',
    message: 'Something is still missing or does not fit. Everything you wrote is kept.',
    fields: Object.fromEntries(told) as Record<string, string[]>,
  };
};

/** Parses a form by the schema: its value, or the refusal with a sentence for each field. Empty fields count as absent. */
export function parseForm<S extends z.ZodType>(form: FormData, schema: S): { value: z.output<S> } | Refusal {
  const parsed = parseWithZod(form, { schema });
  return parsed.status === 'success' ? { value: parsed.value as z.output<S> } : invalid(parsed.error);
}

/** The network address of the request, for limits on what is done without a session. */
export const requestIp = async (): Promise<string> => clientIp((await headers()).get('x-forwarded-for'));

/**
 * A server action for people who are signed in: viewer, limit by person, parse, one call, answer. Next checks the
 * origin before. Throws nothing but Next's own redirects.
 */
export const formAction =
  <S extends z.ZodType, T>(
    limit: LimitName,
    schema: S,
    work: (viewer: Viewer, input: z.output<S>) => Promise<T>,
  ): FormAction<T> =>
  async (_before, form) => {
    try {
      const viewer = await viewerOrRefuse();
      await spend(limit, viewer.personId);
      const parsed = parseForm(form, schema);
      if (!('value' in parsed)) return parsed;
      return { ok: true, value: await work(viewer, parsed.value) };
    } catch (error) {
      unstable_rethrow(error);
      return refusalOf(error, limit);
    }
  };

/** The same for people without a session: limited by network address. */
export const publicAction =
  <S extends z.ZodType, T>(
    limit: LimitName,
    schema: S,
    work: (input: z.output<S>) => Promise<T>,
  ): FormAction<T> =>
  async (_before, form) => {
    try {
      await spend(limit, await requestIp());
      const parsed = parseForm(form, schema);
      if (!('value' in parsed)) return parsed;
      return { ok: true, value: await work(parsed.value) };
    } catch (error) {
      unstable_rethrow(error);
      return refusalOf(error, limit);
    }
  };
