import { v5 } from 'uuid';

const NAMESPACE = '6c1d0b0e-6f0e-4f0b-9a55-0d4f6c2b7a10';

/** The id of a thing of the demo by its name: the same at every seed, so that a seed that was killed can run again. */
export const demoId = (name: string): string => v5(name, NAMESPACE);
