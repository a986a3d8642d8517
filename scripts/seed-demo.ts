import { prisma } from '@/lib/data/client';
import { seed } from '../prisma/seed';

// `--if-empty`: into somebody's own database only while nobody is in it.
const isWanted = !process.argv.includes('--if-empty') || (await prisma.program.count()) === 0;
if (isWanted) await seed();
await prisma.$disconnect();
process.exit();
