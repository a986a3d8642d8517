import { readFileSync } from 'node:fs';
import path from 'node:path';
import { answerFor, parseRecords, RecordFault } from '@/lib/domain/measures/record';

// `npm run --silent measure -- FILE`: the measures of an open record (one or an array; `-`: from standard input) as
// JSON on the standard output. What cannot be read ends with code 2 and one sentence on the standard error.

const [file] = process.argv.slice(2);
const STANDARD_INPUT = 0;

const read = (): string => {
  if (file === undefined) {
    throw new RecordFault(
      'Name a file with a record, or - for standard input: npm run --silent measure -- FILE.',
    );
  }
  try {
    // npm runs in the project's own folder; a relative path is meant from where the command was typed.
    return readFileSync(
      file === '-' ? STANDARD_INPUT : path.resolve(process.env.INIT_CWD ?? '.', file),
      'utf8',
    );
  } catch (error) {
    throw new RecordFault(
      `${file} cannot be read: ${(error as NodeJS.ErrnoException).code ?? 'unknown fault'}.`,
      {
        cause: error,
      },
    );
  }
};

try {
  const records = parseRecords(read(), file === '-' ? 'Standard input' : String(file));
  const answer = Array.isArray(records) ? records.map(answerFor) : answerFor(records);
  process.stdout.write(`${JSON.stringify(answer)}\n`);
} catch (error) {
  if (!(error instanceof RecordFault)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 2;
}
