/** Below the job runner nothing knows the clock, chance, the machine or a locale: same input, same bytes. */

import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { everyNode, filesUnder, sourceOf } from '../support/repository.js';

const IMPURE_FOLDERS = ['src/jobs/', 'src/watch/', 'src/service/', 'src/cli/'];
const pure = filesUnder('src').filter(
  (path) => path.endsWith('.ts') && !IMPURE_FOLDERS.some((folder) => path.startsWith(folder)),
);

/** Globals that would let the clock, chance, the machine or the network in. */
const GLOBALS = new Set([
  'Date',
  'process',
  'performance',
  'crypto',
  'Intl',
  'console',
  'fetch',
  'globalThis',
  'setTimeout',
  'setInterval',
  'setImmediate',
  'queueMicrotask',
  'navigator',
  'require',
  'Buffer',
]);
const MEMBERS = /^(localeCompare|toLocale\w*|random)$/;

/** Declared by the file itself, a property name, or a name in a type: then it is not the global. */
const isGlobalUse = (node: ts.Identifier): boolean => {
  const { parent } = node;
  if (ts.isPropertyAccessExpression(parent) && parent.name === node) return false;
  if (ts.isPropertyAssignment(parent) && parent.name === node) return false;
  if (ts.isPropertySignature(parent) || ts.isTypeReferenceNode(parent) || ts.isBindingElement(parent)) return false;
  return !ts.isParameter(parent) && !(ts.isVariableDeclaration(parent) && parent.name === node);
};

const impurities = (path: string): string[] => {
  const found: string[] = [];
  const file = sourceOf(path);
  everyNode(file, (node) => {
    const line = () => file.getLineAndCharacterOfPosition(node.getStart()).line + 1;
    if (ts.isIdentifier(node) && GLOBALS.has(node.text) && isGlobalUse(node)) {
      found.push(`${path}:${line()} ${node.text}`);
    }
    if (ts.isPropertyAccessExpression(node) && MEMBERS.test(node.name.text)) {
      found.push(`${path}:${line()} .${node.name.text}`);
    }
  });
  return found;
};

describe('purity', () => {
  it('has looked at ground, catalogue, every stage and pipeline', () => {
    expect(pure.length).toBeGreaterThan(80);
  });

  it('finds no clock, chance, environment or locale', () => {
    expect(pure.flatMap(impurities)).toEqual([]);
  });
});
