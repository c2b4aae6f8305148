/** A written file as web-ifc sees it: the points of every mesh, in mm and z up, and attributes by GlobalId. */

import { createRequire } from 'node:module';
import { IfcAPI, LogLevel } from 'web-ifc';

export interface Seen {
  /** In capitals. */
  readonly type: string;
  readonly globalId: string;
  readonly name: string | null;
  readonly tag: string | null;
  readonly points: readonly (readonly [number, number, number])[];
  readonly colour: readonly [number, number, number];
  /** Property sets by name, values by property; lists as lists. */
  readonly sets: Readonly<Record<string, Readonly<Record<string, unknown>>>>;
}

export interface Reread {
  readonly things: readonly Seen[];
  /** How many instances there are of a type, subtypes included. */
  readonly count: (type: number) => number;
}

const open = async (): Promise<IfcAPI> => {
  const api = new IfcAPI();
  api.SetWasmPath(
    createRequire(import.meta.url)
      .resolve('web-ifc')
      .replace(/[^/]*$/, ''),
    true,
  );
  await api.Init();
  api.SetLogLevel(LogLevel.LOG_LEVEL_OFF);
  return api;
};

type Line = Record<string, { value: unknown } | undefined> & { expressID: number };

const plain = (v: unknown): unknown => {
  if (Array.isArray(v)) return v.map(plain);
  return v !== null && typeof v === 'object' && 'value' in v ? (v as { value: unknown }).value : v;
};

const propertiesOf = (api: IfcAPI, model: number): Map<number, Record<string, Record<string, unknown>>> => {
  const found = new Map<number, Record<string, Record<string, unknown>>>();
  const relations = api.GetLineIDsWithType(model, api.GetTypeCodeFromName('IFCRELDEFINESBYPROPERTIES'));
  for (let i = 0; i < relations.size(); i++) {
    const relation = api.GetLine(model, relations.get(i)) as {
      RelatedObjects: { value: number }[];
      RelatingPropertyDefinition: { value: number };
    };
    const set = api.GetLine(model, relation.RelatingPropertyDefinition.value) as {
      Name: { value: string };
      /** Of a set of quantities there are none. */
      HasProperties?: { value: number }[];
    };
    const values: Record<string, unknown> = {};
    for (const { value: id } of set.HasProperties ?? []) {
      const property = api.GetLine(model, id) as Line;
      values[String(property.Name!.value)] = plain(property.NominalValue ?? property.ListValues);
    }
    for (const { value: id } of relation.RelatedObjects) {
      const sets = found.get(id) ?? {};
      sets[set.Name.value] = values;
      found.set(id, sets);
    }
  }
  return found;
};

/** Opens the bytes, streams every mesh, closes the model. */
export const reread = async (bytes: Uint8Array): Promise<Reread> => {
  const api = await open();
  const model = api.OpenModel(bytes);
  if (model < 0) throw new Error('web-ifc does not open the file');
  const properties = propertiesOf(api, model);
  const things: Seen[] = [];
  api.StreamAllMeshes(model, (mesh) => {
    const line = api.GetLine(model, mesh.expressID) as Line;
    const points: [number, number, number][] = [];
    let colour: [number, number, number] = [0, 0, 0];
    for (let g = 0; g < mesh.geometries.size(); g++) {
      const { geometryExpressID, flatTransformation: m, color } = mesh.geometries.get(g);
      colour = [color.x, color.y, color.z];
      const geometry = api.GetGeometry(model, geometryExpressID);
      const v = api.GetVertexArray(geometry.GetVertexData(), geometry.GetVertexDataSize());
      for (let k = 0; k < v.length; k += 6) {
        const [a, b, c] = [v[k]!, v[k + 1]!, v[k + 2]!];
        const at = (row: number) => m[row]! * a + m[row + 4]! * b + m[row + 8]! * c + m[row + 12]!;
        // Metres with y up there, mm with z up here.
        points.push([at(0) * 1000, -at(2) * 1000, at(1) * 1000]);
      }
      geometry.delete();
    }
    things.push({
      type: api.GetNameFromTypeCode(api.GetLineType(model, mesh.expressID)).toUpperCase(),
      globalId: String(line.GlobalId!.value),
      name: (line.Name?.value as string | undefined) ?? null,
      tag: (line.Tag?.value as string | undefined) ?? null,
      points,
      colour,
      sets: properties.get(mesh.expressID) ?? {},
    });
  });
  const counts = new Map<number, number>();
  const count = (type: number): number => counts.get(type) ?? 0;
  for (const type of api.GetAllTypesOfModel(model))
    counts.set(type.typeID, api.GetLineIDsWithType(model, type.typeID).size());
  api.CloseModel(model);
  return { things, count };
};
