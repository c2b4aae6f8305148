/** Codes of the findings that read reports. */

import type { FindingKind } from '../findings.js';

export const readFindings = {
  'read.refused': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The file cannot be read as a drawing; the message says what it is or what is wrong with it.',
    action: 'Hand in the drawing as DXF (R12 to R2018, text or binary).',
  },
  'read.cut': {
    severity: 'failure',
    rule: 'input',
    meaning: 'The file ends before the drawing does; what was there was read.',
    action: 'Get the file again: a download or copy broke off. What is laid out covers only the part that was read.',
  },
  'read.broken-lines': {
    severity: 'failure',
    rule: 'input',
    meaning: 'Part of the file is not made of group codes and values and was left out.',
    action: 'Save the drawing as DXF again; compare what was laid out with the drawing.',
  },
  'read.blank-lines': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Blank lines stand between the tags of the file; they were left out.',
    action: 'Nothing, unless something is missing; the program that wrote the file is at fault.',
  },
  'read.line-ends': {
    severity: 'note',
    rule: 'input',
    meaning: 'The file has line ends of an old kind; the drawing that is written has line feeds.',
    action: 'Nothing.',
  },
  'read.version-unknown': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The header names a version of DXF that is not one of R12 to R2018.',
    action: 'Save the drawing as DXF 2018 or older if something is missing.',
  },
  'read.code-page-unknown': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The header names a code page that cannot be decoded; letters outside ASCII may read wrong.',
    action: 'Check names of layers and texts; save the drawing as DXF 2007 or later, which is UTF-8.',
  },
  'read.code-page-assumed': {
    severity: 'note',
    rule: 'input',
    meaning: 'The header names no code page; how letters outside ASCII are coded was told from the bytes.',
    action: 'Check names of layers and texts if they have letters outside ASCII.',
  },
  'read.mended': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'The file lacks ends of sections, tables, blocks or polylines, or has too many; they were put right so that it can be read.',
    action: 'Nothing, unless something is missing; the program that wrote the file is at fault.',
  },
  'read.duplicate-handles': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Several entities carry the same handle, which should be unique.',
    action: 'Let a CAD program audit the drawing if other programs are to use it.',
  },
  'read.own-entities': {
    severity: 'note',
    rule: 'input',
    meaning: 'The drawing holds an earlier layout by this program; it was taken out before reading.',
    action: 'Nothing. To keep changes that were made to that layout, hand the drawing to recheck instead.',
  },
  'read.reference-missing': {
    severity: 'attention',
    rule: 'input',
    meaning: 'The drawing refers to another drawing (external reference) that is not in the file.',
    action: 'Bind the reference into the drawing, if walls stand in it.',
  },
  'read.block-missing': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A block is inserted that the file does not define.',
    action: 'Look whether something is missing where it stands; save the drawing again.',
  },
  'read.block-in-itself': {
    severity: 'failure',
    rule: 'input',
    meaning: 'A block contains itself, directly or through others.',
    action: 'Let a CAD program audit and mend the drawing.',
  },
  'read.block-twice': {
    severity: 'attention',
    rule: 'input',
    meaning: 'A block name is defined more than once.',
    action: 'Look whether the blocks show what they should; save the drawing again.',
  },
  'read.blocks-too-deep': {
    severity: 'failure',
    rule: 'input',
    meaning: 'Blocks are nested deeper than is read here.',
    action: 'Explode some of the nesting, or hand in a drawing of the foundation alone.',
  },
  'read.clipped': {
    severity: 'attention',
    rule: 'input',
    meaning:
      'Inserts are clipped to a boundary that is not a simple polygon in plan; their blocks were read whole, with what the boundary hides.',
    action: 'Look whether walls outside of a clipping boundary were laid out; limit the area if so.',
  },
  'read.cut-at-clip': {
    severity: 'note',
    rule: 'input',
    meaning: 'Inserts are clipped to a boundary; what it hides was left out, and lines that cross it were cut there.',
    action: 'Nothing; look at the boundary if walls are missing.',
  },
  'read.too-much': {
    severity: 'failure',
    rule: 'input',
    meaning: 'With its blocks expanded the drawing is larger than is read here; only part of it was read.',
    action: 'Hand in a drawing of the foundation alone, or limit the area.',
  },
  'read.bad-numbers': {
    severity: 'attention',
    rule: 'input',
    meaning: 'Entities with missing, infinite or impossible numbers could not be used.',
    action: 'Look at the entities named; draw them again if they belong to walls.',
  },
  'read.invisible': {
    severity: 'note',
    rule: 'input',
    meaning:
      'Entities that are switched invisible, or stand in inserts on frozen layers, are not part of the linework.',
    action: 'Make them visible if they belong to walls.',
  },
  'read.paper-space': {
    severity: 'note',
    rule: 'input',
    meaning: 'Entities on sheets (paper space) are not part of the linework.',
    action: 'Nothing; walls must stand in model space.',
  },
  'read.chords': {
    severity: 'note',
    rule: 'input',
    meaning: 'Ellipses, splines and arcs in unevenly scaled blocks are held as short straight pieces.',
    action: 'Nothing; draw arcs as arcs where a curved wall is to be formed exactly.',
  },
  'read.width-differs': {
    severity: 'note',
    rule: 'input',
    meaning:
      'Polylines that taper, have several widths or stand in unevenly scaled blocks are taken without their width.',
    action: 'Draw walls of different thickness as polylines of their own, each in one width.',
  },
  'read.no-extent': {
    severity: 'note',
    rule: 'input',
    meaning: 'Entities without any length in plan are not part of the linework.',
    action: 'Nothing.',
  },
  'read.not-linework': {
    severity: 'note',
    rule: 'input',
    meaning: 'Entities of these types are not read as linework; they stay in the drawing unchanged.',
    action: 'Nothing, unless walls are drawn with them: then draw those as lines or polylines.',
  },
} satisfies Record<string, FindingKind>;
