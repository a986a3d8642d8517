import { Agent, createServer, request as httpRequest, type IncomingMessage } from 'node:http';
import type { AddressInfo } from 'node:net';

/** A web server behind the balancer. */
interface Upstream {
  port: number;
  isIn: boolean;
}

const ASK_EVERY_MS = 100;

const healthOf = (port: number) =>
  new Promise<{ status: number; body: string }>((resolve, reject) => {
    const asking = httpRequest({ host: '127.0.0.1', port, path: '/api/health', agent: false }, (answer) => {
      let body = '';
      answer.setEncoding('utf8').on('data', (text: string) => (body += text));
      answer.on('end', () => resolve({ status: answer.statusCode ?? 0, body }));
    });
    asking.on('error', reject).end();
  });

/**
 * The least of a load balancer: takes turns among the servers whose health does not say that they are ending, keeps its
 * connections to them, and never tries a request again: what a server drops, the caller sees.
 */
export async function startBalancer(ports: readonly number[]) {
  const upstreams: Upstream[] = ports.map((port) => ({ port, isIn: false }));
  const agent = new Agent({ keepAlive: true });
  const taken = new Map<number, number>(ports.map((port) => [port, 0]));
  let turn = 0;

  const ask = async (upstream: Upstream) => {
    try {
      const { status, body } = await healthOf(upstream.port);
      // A part that is slow on a busy machine is no reason to send nobody here; a server that is ending is.
      upstream.isIn = status === 200 || !body.includes('"draining":true');
    } catch {
      upstream.isIn = false;
    }
  };
  const timer = setInterval(() => upstreams.forEach((upstream) => void ask(upstream)), ASK_EVERY_MS);

  const choose = () => {
    const ready = upstreams.filter((upstream) => upstream.isIn);
    turn += 1;
    return ready[turn % Math.max(1, ready.length)];
  };

  const server = createServer((request, response) => {
    const upstream = choose();
    if (!upstream) {
      response.writeHead(502).end('no server is in');
      return;
    }
    taken.set(upstream.port, (taken.get(upstream.port) ?? 0) + 1);
    const { method, url: path, headers } = request;
    const passOn = (answer: IncomingMessage) => {
      const { connection: _, ...kept } = answer.headers;
      response.writeHead(answer.statusCode ?? 502, kept);
      answer.pipe(response);
    };
    const forward = httpRequest(
      { host: '127.0.0.1', port: upstream.port, method, path, headers, agent },
      passOn,
    );
    forward.on('error', (error) => {
      if (!response.headersSent) response.writeHead(502);
      response.end(`dropped: ${error.message}`);
    });
    request.pipe(forward);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return {
    origin: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    /** Whether that server gets requests. */
    isIn: (port: number) => upstreams.some((upstream) => upstream.port === port && upstream.isIn),
    /** How many requests each server got. */
    taken,
    stop: () => {
      clearInterval(timer);
      agent.destroy();
      server.closeAllConnections();
      return new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
}
