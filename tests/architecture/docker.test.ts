/** What the image, its compose file and the unit promise, read from the files themselves. */

import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { itNeeds } from '../read/samples.js';
import { shutterwright } from '../support/dist.js';
import { filesUnder, ROOT, textOf } from '../support/repository.js';

/** Instructions with what follows them, comments left out and broken lines joined. */
const instructions = textOf('docker/Dockerfile')
  .replace(/\\\n/g, ' ')
  .split('\n')
  .filter((line) => line.trim() !== '' && !line.startsWith('#'))
  .map((line) => ({ word: line.split(' ')[0]!, rest: line.slice(line.indexOf(' ') + 1).trim() }));
const last = (word: string): string => instructions.filter((i) => i.word === word).at(-1)!.rest;
/** Of the last stage. */
const final = instructions.slice(instructions.map((i) => i.word).lastIndexOf('FROM'));

interface Service {
  readonly image: string;
  readonly build?: { readonly context: string; readonly dockerfile: string };
  readonly command?: readonly string[];
  readonly environment: Readonly<Record<string, string>>;
  readonly secrets: readonly string[];
  readonly volumes: readonly string[];
  readonly ports?: readonly string[];
  readonly user?: string;
  readonly read_only: boolean;
  readonly cap_drop: readonly string[];
  readonly security_opt: readonly string[];
  readonly mem_limit: string;
  readonly pids_limit: number;
  readonly tmpfs: readonly string[];
  readonly deploy?: { readonly replicas: number };
  readonly depends_on?: Readonly<Record<string, { readonly condition: string }>>;
  readonly healthcheck?: { readonly test: readonly string[] };
}
const compose = parse(textOf('docker/compose.yaml'), { merge: true }) as {
  readonly services: Readonly<Record<string, Service>>;
  readonly secrets: Readonly<Record<string, { readonly file: string }>>;
  readonly volumes: Readonly<Record<string, unknown>>;
};
const services = Object.entries(compose.services);
const ours = services.filter(([, s]) => s.image === 'shutterwright');

/** A command line of ours: the command is there, and its help names every option that is used. */
const expectUsable = (words: readonly string[]): void => {
  const [command, ...rest] = words;
  const help = shutterwright([command!, '--help'], ROOT);
  expect(help.status, command).toBe(0);
  expect(help.stdout).toContain(`Usage: shutterwright ${command}`);
  for (const option of rest.filter((word) => word.startsWith('--')))
    expect(help.stdout, `${command} ${option}`).toMatch(new RegExp(`^\\s+${option}\\b`, 'm'));
};

describe('the image', () => {
  it('stands on the Node of package.json, pinned by tag, in both stages', () => {
    const { engines } = JSON.parse(textOf('package.json')) as { engines: { node: string } };
    const tag = instructions.find((i) => i.word === 'ARG')!.rest;
    expect(tag).toMatch(/^NODE=\d+(\.\d+)*-(bookworm-)?slim$/);
    expect(engines.node).toBe(`>=${/\d+/.exec(tag)![0]}`);
    const from = instructions.filter((i) => i.word === 'FROM').map((i) => i.rest.split(' ')[0]);
    expect(from).toEqual(['node:$' + '{NODE}', 'node:$' + '{NODE}']);
  });

  it('runs as nobody in particular, is asked whether it is well, and holds no tools of making it', () => {
    expect(final.filter((i) => i.word === 'USER').map((i) => i.rest)).toEqual(['node']);
    expect(final.findIndex((i) => i.word === 'USER')).toBeLessThan(final.findIndex((i) => i.word === 'ENTRYPOINT'));
    expect(last('HEALTHCHECK')).toMatch(/CMD \["node", "\/app\/docker\/healthy\.mjs"\]$/);
    expect(JSON.parse(last('ENTRYPOINT'))).toEqual(['node', '/app/dist/cli/main.js']);
    expect(JSON.parse(last('VOLUME'))).toEqual(['/data']);
    const runs = instructions.filter((i) => i.word === 'RUN').map((i) => i.rest);
    expect(runs.some((run) => run.startsWith('npm ci '))).toBe(true);
    expect(runs.some((run) => run.includes('npm prune --omit=dev'))).toBe(true);
    expect(final.filter((i) => i.word === 'RUN' && i.rest.includes('npm'))).toEqual([]);
  });

  it('copies what is there, and what is let through to it', () => {
    const through = textOf('docker/Dockerfile.dockerignore')
      .split('\n')
      .filter((line) => line !== '' && !line.startsWith('#'));
    expect(through[0]).toBe('*');
    const files = filesUnder('.');
    const sources = instructions
      .filter((i) => i.word === 'COPY' && !i.rest.startsWith('--from'))
      .flatMap((i) => i.rest.split(' ').slice(0, -1));
    for (const source of sources) {
      expect(through, source).toContain(`!${source}`);
      expect(
        files.some((file) => file === source || file.startsWith(`${source}/`)),
        source,
      ).toBe(true);
    }
    expect(
      through
        .slice(1)
        .map((line) => line.slice(1))
        .sort(),
    ).toEqual([...sources].sort());
  });

  it('is well while serve says so at its port, and otherwise while it runs', async () => {
    let status = 200;
    const server = createServer((request, response) => {
      response.statusCode = request.url === '/healthz' ? status : 404;
      response.end();
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    const { port } = server.address() as { port: number };
    const file = join(mkdtempSync(join(tmpdir(), 'healthy-')), 'cmdline');
    const healthOf = (...words: string[]): Promise<number | null> => {
      writeFileSync(file, `${['/sbin/docker-init', '--', 'node', '/app/dist/cli/main.js', ...words].join('\0')}\0`);
      const child = spawn(process.execPath, [`${ROOT}docker/healthy.mjs`, file]);
      return new Promise((resolve) => {
        child.on('exit', resolve);
      });
    };
    expect(await healthOf('serve', '--port', String(port), '--workers', '0')).toBe(0);
    expect(await healthOf('serve', `--port=${port}`)).toBe(0);
    expect(await healthOf('work', '--data', '/data')).toBe(0);
    status = 503;
    expect(await healthOf('serve', '--port', String(port))).toBe(1);
    server.close();
    expect(await healthOf('serve', '--port', String(port))).toBe(1);
  });
});

describe('compose', () => {
  it('has a database, a service and two workers over one folder of files', () => {
    expect(Object.keys(compose.services)).toEqual(['database', 'service', 'worker']);
    expect(compose.services.worker!.deploy!.replicas).toBe(2);
    for (const [name, { build, volumes, command, depends_on }] of ours) {
      expect(build, name).toEqual({ context: '..', dockerfile: 'docker/Dockerfile' });
      expect(volumes, name).toEqual(['jobs:/data']);
      expect(command!.slice(command!.indexOf('--data'), command!.indexOf('--data') + 2), name).toEqual([
        '--data',
        '/data',
      ]);
      expect(depends_on!.database!.condition, name).toBe('service_healthy');
    }
    expect(Object.keys(compose.volumes)).toEqual(['jobs', 'database']);
  });

  it.each(services)('%s may do as little as it can', (_, service) => {
    expect(service.read_only).toBe(true);
    expect(service.cap_drop).toEqual(['ALL']);
    expect(service.security_opt).toEqual(['no-new-privileges:true']);
    expect(service.tmpfs).toContain('/tmp');
    expect(service.mem_limit).toMatch(/^\d+[mg]$/);
    expect(service.pids_limit).toBeGreaterThan(0);
    expect(service.image === 'shutterwright' || service.user === 'postgres').toBe(true);
    for (const port of service.ports ?? []) expect(port).toMatch(/^127\.0\.0\.1:/);
  });

  it('gives the password by a file alone, and every secret that is used is told', () => {
    expect(textOf('docker/compose.yaml')).not.toMatch(/PASSWORD: |:\/\/[^\s/@]+:[^\s/@]+@/);
    for (const [name, { secrets, environment }] of services) {
      for (const secret of secrets) expect(compose.secrets, name).toHaveProperty(secret);
      const files = Object.entries(environment).filter(([key]) => key.endsWith('_FILE'));
      expect(
        files.map(([, path]) => path),
        name,
      ).toEqual(['/run/secrets/database-password']);
      expect(secrets, name).toContain('database-password');
    }
  });

  it('asks the database whether it is well, and calls our commands as they are', () => {
    expect(compose.services.database!.healthcheck!.test).toContain('pg_isready');
    for (const [, { command }] of ours) expectUsable(command!);
  });
});

describe('the unit of systemd', () => {
  const unit = textOf('docker/shutterwright@.service');

  it('runs commands that are there, as a user of its own, and may do little', () => {
    for (const [, args] of unit.matchAll(/^# {3}\w+\.env: +ARGS=(.+)$/gm)) expectUsable(args!.split(' '));
    expect(unit).toMatch(/^User=shutterwright$/m);
    for (const line of ['NoNewPrivileges=yes', 'ProtectSystem=strict', 'CapabilityBoundingSet=', 'PrivateTmp=yes'])
      expect(unit.split('\n')).toContain(line);
  });

  const hasSystemd = spawnSync('systemd-analyze', ['--version']).status === 0;
  itNeeds(hasSystemd, 'systemd-analyze')('is understood by systemd, which finds little exposed', () => {
    const folder = mkdtempSync(join(tmpdir(), 'unit-'));
    // Its program stands elsewhere here.
    const path = join(folder, 'shutterwright@.service');
    writeFileSync(path, unit.replace('/usr/bin/node', process.execPath));
    const verified = spawnSync('systemd-analyze', ['verify', join(folder, 'shutterwright@work.service')], {
      encoding: 'utf8',
    });
    // Of the user nothing is said here: it is made where the program is installed.
    expect([verified.status, verified.stdout, verified.stderr]).toEqual([0, '', '']);
    const exposed = spawnSync('systemd-analyze', ['security', '--offline=true', '--threshold=20', path], {
      encoding: 'utf8',
    });
    expect(exposed.status, exposed.stdout.slice(-200)).toBe(0);
  });
});
