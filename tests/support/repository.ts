/** The repository as text, for the tests that hold it to its own rules. */

import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

export const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/** Folders that are made, not kept. */
const MADE = new Set(['node_modules', 'dist', 'out', 'coverage', '.git']);

const walk = (folder: string): string[] =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    if (MADE.has(entry.name)) return [];
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return walk(path);
    return entry.isFile() ? [path] : [];
  });

/** Paths of all kept files under `folder`, from the root, with '/', sorted. */
export const filesUnder = (folder: string): string[] =>
  walk(join(ROOT, folder))
    .map((path) => relative(ROOT, path).split(sep).join('/'))
    .sort();

export const textOf = (path: string): string => readFileSync(join(ROOT, path), 'utf8');

export const sourceOf = (path: string): ts.SourceFile =>
  ts.createSourceFile(path, textOf(path), ts.ScriptTarget.ES2022, true);

/** Calls `look` with every node of a file. */
export const everyNode = (file: ts.SourceFile, look: (node: ts.Node) => void): void => {
  const visit = (node: ts.Node): void => {
    look(node);
    ts.forEachChild(node, visit);
  };
  visit(file);
};

export interface Imported {
  readonly specifier: string;
  /** Erased by the compiler: `import type …`, or only `type` names. */
  readonly typeOnly: boolean;
}

/** Everything that a file imports, exports from or imports dynamically. A computed dynamic import counts as specifier '?'. */
export const importsOf = (file: ts.SourceFile): Imported[] => {
  const found: Imported[] = [];
  everyNode(file, (node) => {
    if (ts.isImportDeclaration(node) && ts.isStringLiteral(node.moduleSpecifier)) {
      found.push({
        specifier: node.moduleSpecifier.text,
        typeOnly: node.importClause?.phaseModifier === ts.SyntaxKind.TypeKeyword,
      });
    } else if (ts.isExportDeclaration(node) && node.moduleSpecifier && ts.isStringLiteral(node.moduleSpecifier)) {
      found.push({ specifier: node.moduleSpecifier.text, typeOnly: node.isTypeOnly });
    } else if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) {
      const [target] = node.arguments;
      found.push({ specifier: target && ts.isStringLiteral(target) ? target.text : '?', typeOnly: false });
    } else if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument)) {
      const { literal } = node.argument;
      if (ts.isStringLiteral(literal)) found.push({ specifier: literal.text, typeOnly: true });
    }
  });
  return found;
};
