import { createServer, type AddressInfo, type Socket } from 'node:net';

/** One message that was taken: its Message-ID and when the 250 was written. */
export interface Taken {
  id: string;
  at: number;
}

const END = '\r\n.\r\n';

/** The least of a mail server (RFC 5321) that takes every message and remembers its Message-ID (RFC 5322). */
export async function startMailServer() {
  const taken: Taken[] = [];
  const sockets = new Set<Socket>();

  const serve = (socket: Socket) => {
    sockets.add(socket);
    socket.on('close', () => sockets.delete(socket)).on('error', () => {});
    socket.setEncoding('utf8');
    let text = '';
    let isData = false;
    const say = (line: string) => socket.write(`${line}\r\n`);
    const command = (line: string) => {
      const verb = line.slice(0, 4).toUpperCase();
      if (verb === 'DATA') {
        isData = true;
        say('354 go on');
      } else if (verb === 'QUIT') {
        say('221 bye');
        socket.end();
      } else say('250 ok');
    };
    const next = (): boolean => {
      const end = isData ? END : '\r\n';
      const at = text.indexOf(end);
      if (at < 0) return false;
      const piece = text.slice(0, at);
      text = text.slice(at + end.length);
      if (!isData) command(piece);
      else {
        isData = false;
        const id = /^Message-ID:\s*<([^>]+)>/im.exec(piece)?.[1] ?? '';
        say('250 kept');
        taken.push({ id, at: Date.now() });
      }
      return true;
    };
    say('220 bench ESMTP');
    socket.on('data', (chunk) => {
      text += String(chunk);
      while (next());
    });
  };

  const server = createServer(serve);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    url: `smtp://127.0.0.1:${(server.address() as AddressInfo).port}`,
    taken,
    stop: () => {
      for (const socket of sockets) socket.destroy();
      return new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
}
