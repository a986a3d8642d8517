import { unstable_rethrow } from 'next/navigation';
import * as z from 'zod';
import { type LimitName, spend } from '@/lib/data/rate-limit';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { Answer } from '@/lib/domain/shared/result';
import { refusalOf } from './action';
import { viewerOrRefuse } from './viewer';

/**
 * A server action called with a value instead of a form: viewer, limit by person, parse, one call, answer. What
 * arrives is untrusted whatever its type says, so it is parsed. Throws nothing but Next's own redirects.
 */
export const callAction =
  <S extends z.ZodType, T>(
    limit: LimitName,
    schema: S,
    work: (viewer: Viewer, input: z.output<S>) => Promise<T>,
  ): ((input: z.input<S>) => Promise<Answer<T>>) =>
  async (input) => {
    try {
      const viewer = await viewerOrRefuse();
      await spend(limit, viewer.personId);
      const parsed = schema.safeParse(input);
      if (parsed.success) return { ok: true, value: await work(viewer, parsed.data) };
      const { formErrors, fieldErrors } = z.flattenError(parsed.error);
      const fields = fieldErrors as Record<string, string[]>;
      const [first] = [...formErrors, ...Object.values(fields).flat()];
      return {
        ok: false,
        fault: 'invalid',
        message: first ?? 'Something in this does not fit. Everything you wrote is kept.',
        fields,
      };
    } catch (error) {
      unstable_rethrow(error);
      return refusalOf(error, limit);
    }
  };
