/** The OpenAPI 3.1 document, made from the shapes that the service answers with. */

import { z } from 'zod';
import { ID as JOB_ID } from '../jobs/idForm.js';
import { jobJsonSchema } from '../pipeline/callers.js';
import { PROBLEMS, type ProblemName } from './problems.js';
import {
  fileShape,
  findingShape,
  healthShape,
  jobBriefShape,
  jobListShape,
  jobShape,
  problemKindShape,
  problemShape,
  progressShape,
  resultShape,
  sessionAskShape,
  sessionShape,
  summaryShape,
  tracedShape,
} from './shapes.js';

type Json = Readonly<Record<string, unknown>>;

const NAMED = {
  File: fileShape,
  Finding: findingShape,
  Summary: summaryShape,
  Traced: tracedShape,
  Result: resultShape,
  JobBrief: jobBriefShape,
  Job: jobShape,
  JobList: jobListShape,
  Progress: progressShape,
  Problem: problemShape,
  ProblemKind: problemKindShape,
  SessionAsk: sessionAskShape,
  Session: sessionShape,
  Health: healthShape,
} as const;
type Name = keyof typeof NAMED;

const refTo = (name: Name | 'JobFile'): Json => ({ $ref: `#/components/schemas/${name}` });

/** A schema without what only makes sense where it stands alone. */
const bare = ({ $schema: _, $id: __, ...schema }: Record<string, unknown>): Json => schema;

const schemas = (): Json => {
  const registry = z.registry<{ id: string }>();
  for (const [id, shape] of Object.entries(NAMED)) registry.add(shape, { id });
  const made = z.toJSONSchema(registry, { uri: (id) => `#/components/schemas/${id}` }).schemas;
  return {
    ...Object.fromEntries(Object.entries(made).map(([id, schema]) => [id, bare(schema as Record<string, unknown>)])),
    JobFile: bare(jobJsonSchema() as Record<string, unknown>),
  };
};

const json = (name: Name, description: string): Json => ({
  description,
  content: { 'application/json': { schema: refTo(name) } },
});

const problem = (description: string): Json => ({
  description,
  content: { 'application/problem+json': { schema: refTo('Problem') } },
});

/** Answers by status for problems that may come. */
const problems = (...names: readonly ProblemName[]): Json => {
  const byStatus = new Map<number, string[]>();
  for (const name of names) {
    const { status, title } = PROBLEMS[name];
    byStatus.set(status, [...(byStatus.get(status) ?? []), title]);
  }
  return Object.fromEntries([...byStatus].map(([status, titles]) => [status, problem(`${titles.join('; or ')}.`)]));
};

/** Those that any request may meet. */
const ANYWHERE: readonly ProblemName[] = ['bad-request', 'unknown-host', 'headers-too-large', 'fault'];
const WITH_KEY: readonly ProblemName[] = ['not-authorised', 'too-many-requests', 'store-unavailable'];

const ID = { name: 'id', in: 'path', required: true, schema: { type: 'string', pattern: JOB_ID.source } };
const query = (name: string, schema: Json, description: string): Json => ({ name, in: 'query', schema, description });
const text = (description: string): Json => ({ type: 'string', description });
const binary = (description: string): Json => ({ type: 'string', format: 'binary', description });

const jobPaths = (): Json => ({
  '/api/jobs': {
    post: {
      operationId: 'bringJob',
      summary: 'Bring a drawing',
      requestBody: {
        required: true,
        content: {
          'multipart/form-data': {
            schema: {
              type: 'object',
              required: ['drawing'],
              properties: {
                drawing: binary('DXF, IFC or ifcZIP; the file name is what results are called by'),
                job: {
                  description: 'job file, YAML or JSON, as a file or as a field',
                  anyOf: [{ type: 'string' }, refTo('JobFile')],
                },
                catalogue: binary('catalogue file, YAML or JSON'),
                stock: binary('stock list, YAML or JSON'),
                survey: binary('measured levels, text'),
                kind: { enum: ['layout', 'trace'], default: 'layout' },
                pictures: {
                  enum: ['none', 'svg', 'png'],
                  description: 'plan and elevations as files of their own, where the job file says nothing of them',
                },
              },
            },
            encoding: { job: { contentType: 'application/json, application/yaml' } },
          },
        },
      },
      responses: {
        '200': {
          ...json('Job', 'The same drawing with the same settings is a job already: this one.'),
          headers: { Location: { schema: { type: 'string' } } },
        },
        '202': {
          ...json('Job', 'The job is kept and waits for its turn.'),
          headers: { Location: { schema: { type: 'string' } } },
        },
        ...problems(
          ...ANYWHERE,
          'bad-upload',
          ...WITH_KEY,
          'cross-site',
          'timed-out',
          'too-large',
          'unsupported-media-type',
          'bad-job-file',
          'bad-settings',
          'busy',
          'stopping',
        ),
      },
    },
    get: {
      operationId: 'listJobs',
      summary: 'Jobs, newest first',
      parameters: [
        query('limit', { type: 'integer', minimum: 1, maximum: 200, default: 50 }, 'most in one page'),
        query('before', ID.schema, 'only jobs that came before this one'),
        query('state', { enum: ['waiting', 'running', 'ended', 'cancelled'] }, 'only in this state'),
        query('kind', { enum: ['layout', 'trace'] }, 'only of this kind'),
      ],
      responses: { '200': json('JobList', 'A page of jobs.'), ...problems(...ANYWHERE, ...WITH_KEY) },
    },
  },
  '/api/jobs/{id}': {
    parameters: [ID],
    get: {
      operationId: 'getJob',
      summary: 'A job, with its result when it has ended',
      responses: { '200': json('Job', 'The job.'), ...problems(...ANYWHERE, ...WITH_KEY, 'job-not-found') },
    },
    delete: {
      operationId: 'removeJob',
      summary: 'Cancel a job that waits or runs; forget one that has ended, with its files',
      parameters: [query('only', { enum: ['cancel', 'forget'] }, 'do this alone, or nothing')],
      responses: {
        '202': json('Job', 'The job is cancelled, or will be within a second.'),
        '204': { description: 'The job is forgotten.' },
        ...problems(...ANYWHERE, ...WITH_KEY, 'cross-site', 'job-not-found', 'wrong-state'),
      },
    },
  },
  '/api/jobs/{id}/events': {
    parameters: [ID],
    get: {
      operationId: 'watchJob',
      summary: 'Progress as server-sent events, to the end of the job',
      description:
        'Events `progress` and at last `ended`, each with a Progress as data. Comments keep the connection open. Whoever connects anew is told what holds now; after `ended` the answer is 204.',
      responses: {
        '200': { description: 'A stream of events.', content: { 'text/event-stream': { schema: { type: 'string' } } } },
        '204': { description: 'The caller has had the last event.' },
        ...problems(...ANYWHERE, ...WITH_KEY, 'job-not-found', 'busy', 'stopping'),
      },
    },
  },
  '/api/jobs/{id}/files/{name}': {
    parameters: [ID, { name: 'name', in: 'path', required: true, schema: { type: 'string' } }],
    get: {
      operationId: 'getFile',
      summary: 'A result',
      parameters: [query('download', text('any'), 'to be kept rather than shown')],
      responses: {
        '200': { description: 'The file.', content: { '*/*': { schema: binary('as the job says') } } },
        '304': { description: 'The caller has it: `If-None-Match` names its ETag.' },
        ...problems(...ANYWHERE, ...WITH_KEY, 'job-not-found', 'file-not-found'),
      },
    },
  },
});

const otherPaths = (): Json => ({
  '/api/session': {
    get: {
      operationId: 'getSession',
      summary: 'Whether a key is needed, and whose the caller has given',
      security: [],
      responses: { '200': json('Session', 'The session.'), ...problems(...ANYWHERE) },
    },
    post: {
      operationId: 'beginSession',
      summary: 'Sign a browser in: a cookie then stands for the key',
      security: [],
      requestBody: { required: true, content: { 'application/json': { schema: refTo('SessionAsk') } } },
      responses: {
        '200': json('Session', 'Signed in.'),
        ...problems(
          ...ANYWHERE,
          'not-authorised',
          'cross-site',
          'too-large',
          'unsupported-media-type',
          'too-many-requests',
        ),
      },
    },
    delete: {
      operationId: 'endSession',
      summary: 'Sign out',
      security: [],
      responses: { '204': { description: 'Signed out.' }, ...problems(...ANYWHERE, 'cross-site') },
    },
  },
  '/api/problems/{name}': {
    parameters: [{ name: 'name', in: 'path', required: true, schema: { enum: Object.keys(PROBLEMS) } }],
    get: {
      operationId: 'getProblem',
      summary: 'What a problem means',
      security: [],
      responses: { '200': json('ProblemKind', 'The problem.'), ...problems(...ANYWHERE, 'not-found') },
    },
  },
  '/api/openapi.json': {
    get: {
      operationId: 'getDocument',
      summary: 'This document',
      security: [],
      responses: {
        '200': { description: 'OpenAPI 3.1.', content: { 'application/json': { schema: { type: 'object' } } } },
        ...problems(...ANYWHERE),
      },
    },
  },
  '/healthz': {
    get: {
      operationId: 'isAlive',
      summary: 'Whether the service answers',
      security: [],
      responses: { '200': json('Health', 'It does.'), ...problems(...ANYWHERE) },
    },
  },
  '/readyz': {
    get: {
      operationId: 'isReady',
      summary: 'Whether the service can take work',
      security: [],
      responses: {
        '200': json('Health', 'It can.'),
        '503': json('Health', 'It cannot: `checks` say why.'),
        ...problems(...ANYWHERE),
      },
    },
  },
  '/metrics': {
    get: {
      operationId: 'getMetrics',
      summary: 'Figures for a monitoring program',
      responses: {
        '200': { description: 'Text format of Prometheus.', content: { 'text/plain': { schema: { type: 'string' } } } },
        ...problems(...ANYWHERE, 'not-authorised', 'too-many-requests'),
      },
    },
  },
});

/** `version`: of the program. */
export const openApi = (version: string): Json => ({
  openapi: '3.1.0',
  info: {
    title: 'shutterwright',
    version,
    description:
      'Takes foundation drawings and models in and gives layouts of modular wall forms out. Every answer that is no success is a problem of RFC 9457.',
    license: { name: 'MIT', identifier: 'MIT' },
  },
  servers: [{ url: '/' }],
  security: [{ key: [] }, { session: [] }, {}],
  paths: { ...jobPaths(), ...otherPaths() },
  components: {
    securitySchemes: {
      key: { type: 'http', scheme: 'bearer', description: 'needed where the service was begun with keys' },
      session: { type: 'apiKey', in: 'cookie', name: 'shutterwright-session' },
    },
    schemas: schemas(),
  },
});
