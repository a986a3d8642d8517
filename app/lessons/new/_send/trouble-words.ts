/** What went wrong with a picked file, in a sentence for people. */
export const troubleWords = (error: unknown): string =>
  error instanceof Error && 'forPeople' in error && typeof error.forPeople === 'string'
    ? error.forPeople
    : 'Something went wrong with this file on this device. Nothing was lost; try it again, or pick another file.';
