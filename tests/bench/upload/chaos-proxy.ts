import { once } from 'node:events';
import { connect, createServer, type AddressInfo, type Socket } from 'node:net';

const STEP_MS = 10;

/**
 * A network that misbehaves: between browser and server, slowed to `bytesPerSecond` on the way up. It counts what
 * the browser sent, cuts connections, and swallows bytes without a word.
 */
export class ChaosProxy {
  /** Bytes that came from the browser, headers and all. */
  sentBytes = 0;
  private readonly pairs = new Set<[Socket, Socket]>();
  private isHole = false;
  private budget = 0;
  private readonly server = createServer((socket) => this.join(socket));
  private readonly refill: NodeJS.Timeout;

  constructor(
    private readonly targetPort: number,
    private readonly bytesPerSecond: number,
  ) {
    this.refill = setInterval(() => {
      // A chunk may overdraw; the next steps pay it back.
      this.budget = Math.min(this.budget + (bytesPerSecond * STEP_MS) / 1000, bytesPerSecond / 10);
      if (!this.isHole && this.budget > 0) for (const [browser] of this.pairs) browser.resume();
    }, STEP_MS);
  }

  async listen(): Promise<string> {
    this.server.listen(0, '127.0.0.1');
    await once(this.server, 'listening');
    return `http://127.0.0.1:${(this.server.address() as AddressInfo).port}`;
  }

  /** Resets every connection. */
  cut(): void {
    for (const [browser, server] of this.pairs) {
      browser.resetAndDestroy();
      server.resetAndDestroy();
    }
  }

  /** Swallows: connections stay open and nothing moves until `heal`, which drops what was in them. */
  swallow(): void {
    this.isHole = true;
    for (const [browser, server] of this.pairs) {
      browser.pause();
      server.pause();
    }
  }

  heal(): void {
    this.isHole = false;
    this.cut();
  }

  async close(): Promise<void> {
    clearInterval(this.refill);
    this.cut();
    this.server.close();
    await once(this.server, 'close');
  }

  private join(browser: Socket): void {
    const server = connect(this.targetPort, '127.0.0.1');
    const pair: [Socket, Socket] = [browser, server];
    // Nothing is taken from the browser before there is somebody to give it to, as with a refused connection.
    browser.pause();
    server.once('connect', () => {
      this.pairs.add(pair);
      if (!this.isHole) browser.resume();
    });
    const end = () => {
      this.pairs.delete(pair);
      browser.destroy();
      server.destroy();
    };
    for (const socket of pair) socket.on('error', end).on('close', end);
    browser.on('data', (chunk) => {
      this.sentBytes += chunk.length;
      this.budget -= chunk.length;
      const isFree = server.write(chunk);
      if (!isFree) {
        browser.pause();
        server.once('drain', () => !this.isHole && browser.resume());
      } else if (this.budget <= 0) browser.pause();
    });
    server.pipe(browser);
  }
}
