import facts from '@/package.json';

/** The version of this installation, as package.json says it. */
export const VERSION: string = facts.version;
