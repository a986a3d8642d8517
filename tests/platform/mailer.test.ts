import { mkdtemp, readFile, readdir, rm } from 'node:fs/promises';
import { createServer, type AddressInfo, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { createMailer } from '@/lib/platform/mailer';

const MAIL = {
  to: 'dana@example.org',
  subject: 'Your swing is back – fünf Dinge',
  text: 'Have a look when you have a minute.',
  html: '<p>Have a look when you have a minute.</p>',
  messageId: '<0198f0aa-0000-7000-8000-000000000001@cagepost>',
};
const FROM = 'Cagepost <no-reply@localhost>';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'cagepost-mail-'));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

describe('without a mail server', () => {
  const mailer = () => createMailer({ from: FROM, dataFolder: folder });

  test('mail is a file that mail programs open', async () => {
    await mailer().send(MAIL);
    const [file, ...others] = await readdir(path.join(folder, 'outbox'));
    expect(others).toEqual([]);
    expect(file).toMatch(/^0198f0aa-0000-7000-8000-000000000001@cagepost\.eml$/);
    const text = await readFile(path.join(folder, 'outbox', file ?? ''), 'utf8');
    expect(text).toContain('To: dana@example.org');
    expect(text).toContain(`Message-ID: ${MAIL.messageId}`);
    expect(text).toContain('Have a look when you have a minute.');
    expect(text).toContain('Content-Type: text/html');
    expect(text).toContain('Auto-Submitted: auto-generated');
  });

  test('the same mail sent again replaces itself', async () => {
    await mailer().send(MAIL);
    await mailer().send(MAIL);
    expect(await readdir(path.join(folder, 'outbox'))).toHaveLength(1);
  });

  test('a message id cannot lead out of the folder', async () => {
    await mailer().send({ ...MAIL, messageId: '<../../evil@cagepost>' });
    expect(await readdir(path.join(folder, 'outbox'))).toEqual(['....evil@cagepost.eml']);
  });
});

describe('the head that ends a kind of mail', () => {
  const headOf = async (stopUrl?: string) => {
    await createMailer({ from: FROM, dataFolder: folder }).send({ ...MAIL, ...(stopUrl && { stopUrl }) });
    const [file] = await readdir(path.join(folder, 'outbox'));
    const text = await readFile(path.join(folder, 'outbox', file ?? ''), 'utf8');
    // Long lines of a head are folded (RFC 5322, 2.2.3).
    return text.slice(0, text.indexOf('\n\n')).replace(/\n[ \t]+/g, ' ');
  };

  test('stands in it with the one click that RFC 8058 asks for, word for word', async () => {
    const address = 'https://cage.example.org/api/notices/stop/a.reply.b';
    const head = await headOf(address);
    expect(head).toMatch(new RegExp(`^List-Unsubscribe: <${address}>$`, 'm'));
    expect(head).toMatch(/^List-Unsubscribe-Post: List-Unsubscribe=One-Click$/m);
  });

  test('promises no one click where the site is not reached by https', async () => {
    const head = await headOf('http://localhost:3000/api/notices/stop/a.reply.b');
    expect(head).toContain('List-Unsubscribe: <http://localhost:3000/');
    expect(head).not.toContain('List-Unsubscribe-Post');
  });

  test('is absent from what cannot be ended', async () => {
    expect(await headOf()).not.toContain('List-Unsubscribe');
  });
});

// The least of a mail server (RFC 5321) that a client can hand a message to.
const listen = (answerToRecipient: string) => {
  const received: string[] = [];
  const sockets = new Set<Socket>();
  const server = createServer((socket) => {
    sockets.add(socket);
    let isData = false;
    let data = '';
    socket.write('220 test ESMTP\r\n');
    socket.on('data', (chunk) => {
      if (isData) {
        data += chunk.toString();
        if (!data.endsWith('\r\n.\r\n')) return;
        received.push(data);
        isData = false;
        socket.write('250 kept\r\n');
        return;
      }
      for (const line of chunk.toString().split('\r\n').filter(Boolean)) {
        if (line.startsWith('RCPT')) socket.write(`${answerToRecipient}\r\n`);
        else if (line === 'DATA') {
          isData = true;
          socket.write('354 go on\r\n');
        } else socket.write('250 ok\r\n');
      }
    });
  });
  const close = () => {
    for (const socket of sockets) socket.destroy();
    return new Promise((resolve) => server.close(resolve));
  };
  return new Promise<{ url: string; received: string[]; close: () => Promise<unknown> }>((resolve) => {
    server.listen(0, '127.0.0.1', () => {
      resolve({ url: `smtp://127.0.0.1:${(server.address() as AddressInfo).port}`, received, close });
    });
  });
};

describe('with a mail server', () => {
  test('mail is handed to it and no file is written', async () => {
    const server = await listen('250 ok');
    await createMailer({ smtpUrl: server.url, from: FROM, dataFolder: folder }).send(MAIL);
    await server.close();
    expect(server.received).toHaveLength(1);
    expect(server.received[0]).toContain(`Message-ID: ${MAIL.messageId}`);
    expect(await readdir(folder)).toEqual([]);
  });

  test('a refusal is an error, so that the outbox keeps the mail', async () => {
    const server = await listen('550 no such mailbox');
    const mailer = createMailer({ smtpUrl: server.url, from: FROM, dataFolder: folder });
    await expect(mailer.send(MAIL)).rejects.toThrow(/550/);
    await server.close();
  });
});
