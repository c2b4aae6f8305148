/** A PostgreSQL of our own in a passing folder, begun when the first test asks for it; it ends with the process that asked. */

import { type SpawnSyncReturns, spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';

/** The folder with initdb and pg_ctl, of the newest where there are several; null where PostgreSQL is not there. */
const binFolder = (): string | null => {
  const debian = '/usr/lib/postgresql';
  const versions = existsSync(debian) ? readdirSync(debian).sort((a, b) => Number(b) - Number(a)) : [];
  const folders = [...versions.map((v) => join(debian, v, 'bin')), ...(process.env.PATH ?? '').split(':')];
  return folders.find((folder) => ['initdb', 'pg_ctl'].every((name) => existsSync(join(folder, name)))) ?? null;
};

const BIN = binFolder();
const isRoot = process.getuid?.() === 0;
/** PostgreSQL does not run as root: then as the user that Debian's package makes. */
const isUserThere = !isRoot || spawnSync('id', ['postgres']).status === 0;
export const HAS_POSTGRES = BIN !== null && isUserThere;

const asUser = (command: readonly string[]): string[] =>
  isRoot ? ['runuser', '-u', 'postgres', '--', ...command] : [...command];

const run = (...command: string[]): SpawnSyncReturns<string> => {
  const [program, ...args] = asUser(command);
  const ran = spawnSync(program!, args, { cwd: '/', encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
  if (ran.status !== 0) throw new Error(`${command.join(' ')}: ${ran.stderr}${ran.stdout}`);
  return ran;
};

const freePort = (): Promise<number> =>
  new Promise((resolve, reject) => {
    const server = createServer();
    server.on('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const address = server.address();
      server.close(() => resolve(typeof address === 'object' && address ? address.port : 0));
    });
  });

export class Cluster {
  readonly #folder: string;
  readonly #port: number;
  #databases = 0;

  private constructor(folder: string, port: number) {
    this.#folder = folder;
    this.#port = port;
  }

  static async begin(): Promise<Cluster> {
    const folder = mkdtempSync(join(tmpdir(), 'postgres-'));
    if (isRoot) spawnSync('chown', ['postgres', folder]);
    const data = join(folder, 'data');
    run(join(BIN!, 'initdb'), '-D', data, '-A', 'trust', '-U', 'tests', '--no-sync', '-E', 'UTF8', '--locale', 'C');
    // Ends with this process however that ends: its input is closed then.
    const guard = asUser([
      'sh',
      '-c',
      'cat; "$1" -D "$2/data" -m immediate stop; rm -rf "$2"',
      'sh',
      join(BIN!, 'pg_ctl'),
      folder,
    ]);
    const child = spawn(guard[0]!, guard.slice(1), { cwd: '/', stdio: ['pipe', 'ignore', 'ignore'], detached: true });
    child.unref();
    (child.stdin as unknown as { unref: () => void }).unref();
    const cluster = new Cluster(folder, await freePort());
    cluster.start();
    return cluster;
  }

  start(): void {
    // What is written need not outlive the machine, but a server that is killed (`stop`) has it.
    const options = `-p ${this.#port} -c listen_addresses=127.0.0.1 -c unix_socket_directories= -c fsync=off`;
    run(
      join(BIN!, 'pg_ctl'),
      '-D',
      join(this.#folder, 'data'),
      '-l',
      join(this.#folder, 'log'),
      '-w',
      '-o',
      options,
      'start',
    );
  }

  /** As if it were killed: every connection is cut, and the next start reads its journal. */
  stop(): void {
    run(join(BIN!, 'pg_ctl'), '-D', join(this.#folder, 'data'), '-w', '-m', 'immediate', 'stop');
  }

  urlOf(database: string): string {
    return `postgres://tests@127.0.0.1:${this.#port}/${database}`;
  }

  /** The address of an empty database. */
  async freshDatabase(): Promise<string> {
    const name = `d${++this.#databases}`;
    await this.ask(this.urlOf('postgres'), `create database ${name}`);
    return this.urlOf(name);
  }

  async ask(url: string, text: string, values: readonly unknown[] = []): Promise<Record<string, unknown>[]> {
    const client = new pg.Client(url);
    await client.connect();
    try {
      return (await client.query(text, [...values])).rows;
    } finally {
      await client.end();
    }
  }
}

let shared: Promise<Cluster> | null = null;

/** One for all tests of a process. */
export const cluster = (): Promise<Cluster> => {
  shared ??= Cluster.begin();
  return shared;
};
