/** Connections to the database, and steps in it that are done as a whole or not at all. */

import { setTimeout as pause } from 'node:timers/promises';
import { Pool } from 'pg';
import type { Db } from 'pg-boss';
import { Refusal } from '../refusal.js';

/** Of one statement, ms: a network that says nothing must not hold a program for ever. */
const STATEMENT_MS = 30_000;
/** How long a database that cannot be reached is waited for when a program begins, ms. */
const OPENING_MS = 30_000;

/** What asking again does not mend: who may do what, and names that are not there (SQLSTATE classes of PostgreSQL's appendix A). */
const LASTING = /^(28|3D|3F|42)/;

/** The address without what is secret in it. */
const shownOf = (databaseUrl: string): string => {
  const url = new URL(databaseUrl);
  return `${url.hostname}${url.port && `:${url.port}`}${url.pathname}`;
};

export class Database {
  readonly pool: Pool;
  readonly #shown: string;

  constructor(databaseUrl: string) {
    this.#shown = shownOf(databaseUrl);
    this.pool = new Pool({
      connectionString: databaseUrl,
      application_name: 'shutterwright',
      connectionTimeoutMillis: 10_000,
      query_timeout: STATEMENT_MS,
      statement_timeout: STATEMENT_MS,
      idle_in_transaction_session_timeout: STATEMENT_MS,
      keepAlive: true,
      max: 10,
    });
    // Of a connection that nobody uses: the next one to ask gets another.
    this.pool.on('error', () => undefined);
  }

  /** One statement. */
  readonly ask: Db['executeSql'] = (text, values) => this.pool.query(text, values);

  /** Steps that all come to stand, or none where it rejects; but where the connection is lost at the very end nobody knows. */
  async whole<T>(steps: (db: Db) => Promise<T>): Promise<T> {
    let failed: unknown;
    const client = await this.pool.connect();
    const db: Db = {
      executeSql: async (text, values) => {
        try {
          return await client.query(text, values);
        } catch (error) {
          failed ??= error;
          throw error;
        }
      },
    };
    // Unlike one in the pool, a connection in hand has nobody else to hear that it is lost.
    const lost = (error: Error) => {
      failed ??= error;
    };
    client.on('error', lost);
    let isWell = false;
    try {
      await db.executeSql('begin', []);
      const value = await steps(db);
      // pg-boss keeps some errors to itself, and the end of a failed transaction is none.
      if (failed) throw failed;
      await db.executeSql('commit', []);
      isWell = true;
      return value;
    } finally {
      client.off('error', lost);
      client.release(!isWell);
    }
  }

  /** Waits for the database to answer. A Refusal where it does not or may not be used. */
  async opened<T>(step: () => Promise<T>): Promise<T> {
    const begun = performance.now();
    for (;;) {
      try {
        return await step();
      } catch (error) {
        if (error instanceof Refusal) throw error;
        const { code = '', message } = error as Error & { code?: string };
        if (LASTING.test(code) || performance.now() - begun > OPENING_MS) {
          throw new Refusal(`The database ${this.#shown} cannot be used: ${message || code}.`);
        }
        await pause(500);
      }
    }
  }
}
