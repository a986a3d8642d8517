import type { ReactNode } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { documentName } from '@/lib/domain/billing/documents';
import { formatMoney } from '@/lib/domain/billing/money';
import { LEDGER_WORD } from '@/lib/domain/billing/words';
import { SHOWS_WORD, type ClipShows } from '@/lib/domain/drills/drill-clip';
import { SHOWN_WORDS } from '@/lib/domain/people/shown';
import type { Everything } from '@/lib/domain/privacy/everything';
import { EverythingLessonPart } from './everything-lesson';
import { plainWords, scopeWords, whenWords } from './everything-words';

const STYLE = `body{font:17px/26px Verdana,sans-serif;color:#1D2729;background:#F5F0E3;max-width:44rem;margin:2rem auto;padding:0 1rem}
h1,h2,h3,h4{font-family:Rockwell,Georgia,serif;line-height:1.25}h2{border-top:1px solid #7F745C;padding-top:1rem;margin-top:2.5rem}
article{border-top:1px solid #CFC5AE;padding-top:.5rem;margin-top:1.5rem}a{color:#2B5C86}.soft{color:#4A5353}
video{width:100%;max-height:32rem;background:#12181A}blockquote{margin-left:1rem;font-family:Rockwell,Georgia,serif}
table{border-collapse:collapse;width:100%}td,th{text-align:left;padding:.3rem .6rem .3rem 0;border-bottom:1px solid #CFC5AE;vertical-align:top}`;

const Part = ({ title, lines }: { title: string; lines: ReactNode[] }) =>
  lines.length === 0 ? null : (
    <section>
      <h2>{title}</h2>
      <ul>
        {lines.map((line, at) => (
          <li key={at}>{line}</li>
        ))}
      </ul>
    </section>
  );

/**
 * The page of the file with everything about somebody: HTML in plain words that opens from a disk, without a network
 * and without a script. `parts` says in how many files the whole came.
 */
export function everythingPage(all: Everything, parts: number): string {
  const { person, program } = all;
  const when = (at: string) => whenWords(at, program.timeZone);
  const facts = [
    `Name: ${person.name}`,
    person.birthDate && `Birth date: ${person.birthDate}`,
    person.email && `E-mail: ${person.email}`,
    person.bats && `Bats: ${person.bats}`,
    person.timeZone && `Zone: ${person.timeZone}`,
    `At ${program.name} as: ${person.roles.join(', ')}`,
    `Known since ${when(person.since)}`,
    person.hasPassword &&
      'A password is set. It is kept in a way that nobody can read, so it is not in here.',
  ].filter(Boolean) as string[];
  const page = (
    <html lang="en">
      {/* eslint-disable-next-line @next/next/no-head-element -- a file on somebody's disk, no page of the site */}
      <head>
        <meta charSet="utf-8" />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <title>{`Everything about ${person.name}`}</title>
        <style dangerouslySetInnerHTML={{ __html: STYLE }} />
      </head>
      <body>
        <h1>Everything about {person.name}</h1>
        <p>
          This is all that {program.name} keeps about {person.name} on Cagepost, as it stood on{' '}
          {when(all.madeAt)}. The same in a form for programs is in{' '}
          <a href="everything.json">everything.json</a>.
        </p>
        {parts > 1 && (
          <p>
            It came in {parts} files. Unpack them all into one folder, and every link below leads to its file.
          </p>
        )}
        <Part
          title="Too large for this file"
          lines={all.leftOut.map((file) => `${file}: fetch it from its lesson or drill on Cagepost.`)}
        />
        <Part title="Who" lines={facts} />
        <Part
          title="Guardians"
          lines={all.guardians.map(
            (one) => `${one.name}${one.verifiedAt ? `, since ${when(one.verifiedAt)}` : ', not confirmed'}`,
          )}
        />
        <Part
          title="Children"
          lines={all.children.map(
            (one) => `${one.name}${one.verifiedAt ? `, since ${when(one.verifiedAt)}` : ', not confirmed'}`,
          )}
        />
        {all.lessons.length > 0 && (
          <section>
            <h2>Lessons</h2>
            {all.lessons.map((lesson) => (
              <EverythingLessonPart key={lesson.id} lesson={lesson} timeZone={program.timeZone} />
            ))}
          </section>
        )}
        <Part
          title="Targets set by a coach"
          lines={all.targets.map(
            (one) => `${plainWords(one.measure)}: ${one.low ?? ''} to ${one.high ?? ''}, ${when(one.setAt)}`,
          )}
        />
        <Part
          title="Consents"
          lines={all.consents.map(
            (one) =>
              `${scopeWords(one.scope)}: by ${one.by}, ${when(one.givenAt)}${one.withdrawnAt ? `, taken back ${when(one.withdrawnAt)}` : one.expiresAt ? `, until ${when(one.expiresAt)}` : ''} (words of ${one.version}, ${plainWords(one.method)})`,
          )}
        />
        <Part
          title="Practice safety"
          lines={all.practiceSafety.map(
            (one) => `Confirmed ${when(one.at)}${one.adult ? `; present: ${one.adult}` : ''}`,
          )}
        />
        <Part
          title="Who of the staff saw what"
          lines={all.shown.map(
            (one) =>
              `${when(one.at)}: ${one.by}. ${SHOWN_WORDS[one.what as keyof typeof SHOWN_WORDS] ?? one.what}`,
          )}
        />
        <Part
          title="Money"
          lines={all.ledger.map(
            (one) =>
              `${when(one.at)}: ${LEDGER_WORD[one.kind as keyof typeof LEDGER_WORD] ?? one.kind}, ${formatMoney(one.amountMinor, one.currency)}${one.reason ? `. ${one.reason}` : ''}`,
          )}
        />
        <Part
          title="Invoices and receipts"
          lines={all.documents.map((one) => (
            <a key={one.id} href={one.file}>
              {documentName(one.kind, one.number)}, {when(one.at)}
            </a>
          ))}
        />
        <Part title="Notices" lines={all.notices.map((one) => `${when(one.at)}: ${plainWords(one.kind)}`)} />
        <Part
          title="Mail chosen"
          lines={all.mailChoices.map((one) => `${plainWords(one.kind)}: ${plainWords(one.mail)}`)}
        />
        <Part
          title="Checks for work with minors"
          lines={all.checks.map((one) => `${plainWords(one.kind)}: ${one.issuedOn} to ${one.expiresOn}`)}
        />
        <Part
          title="Remarks"
          lines={all.remarks.map((one) => (
            <span key={one.createdAt}>
              {one.title}: {one.text}{' '}
              {one.files.map(({ file }) => (
                <a key={file} href={file}>
                  {file}
                </a>
              ))}
            </span>
          ))}
        />
        <Part
          title="Clips of drills"
          lines={all.drillClips.map((one) => (
            <span key={one.id}>
              {one.drill}, {when(one.sentAt)}. {SHOWS_WORD[one.shows as ClipShows] ?? one.shows}.{' '}
              {one.files.map(({ file }) => (
                <a key={file} href={file}>
                  {file}
                </a>
              ))}
            </span>
          ))}
        />
        <Part
          title="Written on lessons of others"
          lines={all.written.map((one) => `${when(one.at)}: ${one.body}`)}
        />
        <Part
          title="Lessons coached"
          lines={all.coached.map(
            (one) =>
              `Lesson ${one.lessonNumber ?? ''}${one.sentAt ? `, sent ${when(one.sentAt)}` : ''}${one.returnedAt ? `, returned ${when(one.returnedAt)}` : ''}`,
          )}
        />
        <Part title="Concerns raised" lines={all.concerns.map((one) => `${when(one.at)}: ${one.body}`)} />
      </body>
    </html>
  );
  return `<!doctype html>\n${renderToStaticMarkup(page)}`;
}
