import { CagepostError } from '@/lib/domain/shared/errors';

/** How an attempt was refused; anything but a refusal in the product's own words goes through. */
export const refusalOf = (attempt: () => unknown): CagepostError | 'accepted' => {
  try {
    attempt();
  } catch (error) {
    if (error instanceof CagepostError) return error;
    throw error;
  }
  return 'accepted';
};

export const faultOf = (attempt: () => unknown) => {
  const refusal = refusalOf(attempt);
  return refusal === 'accepted' ? refusal : refusal.fault;
};
