/**
 * The house of fixtures/01-corner-house as a building model of our own: foundation walls of concrete as swept rectangles on strip footings, and what
 * is not to be formed beside them: a brick wall, and walls of the storey above. Written line by line as STEP text, with nothing of the program in it.
 */

export interface WallOfModel {
  readonly name: string;
  /** Middle of the wall from end to end, mm. */
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly thicknessMm: number;
  readonly baseMm: number;
  readonly heightMm: number;
  readonly material: 'Concrete C30/37' | 'Facing brick';
  readonly storey: 0 | 1;
}

export interface SleeveOfModel {
  readonly name: string;
  /** Middle, mm. */
  readonly at: readonly [number, number, number];
  readonly radiusMm: number;
  readonly lengthMm: number;
  readonly along: 'x' | 'y';
}

export interface BarOfModel {
  readonly name: string;
  readonly diameterMm: number;
  readonly path: readonly (readonly [number, number, number])[];
}

export interface HouseOfModel {
  readonly walls: readonly WallOfModel[];
  readonly footings: readonly Omit<WallOfModel, 'material' | 'storey'>[];
  readonly sleeves: readonly SleeveOfModel[];
  readonly bars: readonly BarOfModel[];
}

const concrete = (name: string, from: readonly [number, number], to: readonly [number, number]): WallOfModel => ({
  name,
  from,
  to,
  thicknessMm: 200,
  baseMm: 0,
  heightMm: 2350,
  material: 'Concrete C30/37',
  storey: 0,
});

const foundationWalls: readonly WallOfModel[] = [
  concrete('Foundation wall south', [0, 100], [9000, 100]),
  concrete('Foundation wall east', [8900, 200], [8900, 4200]),
  concrete('Foundation wall north-east', [5200, 4100], [8800, 4100]),
  concrete('Foundation wall notch', [5300, 4200], [5300, 7200]),
  concrete('Foundation wall north', [0, 7100], [5200, 7100]),
  concrete('Foundation wall west', [100, 200], [100, 7000]),
  concrete('Foundation wall middle', [3100, 200], [3100, 7000]),
  concrete('Garden wall', [1000, -2500], [5000, -2500]),
];

export const cornerHouseModel: HouseOfModel = {
  walls: [
    ...foundationWalls,
    { ...concrete('Coal bunker', [-3000, 100], [-1200, 100]), material: 'Facing brick' },
    { ...concrete('Upper wall south', [0, 100], [9000, 100]), baseMm: 2350, heightMm: 2600, storey: 1 },
    { ...concrete('Upper wall west', [100, 200], [100, 7000]), baseMm: 2350, heightMm: 2600, storey: 1 },
  ],
  footings: foundationWalls.map(({ name, from, to }) => ({
    name: name.replace(/wall/i, 'footing'),
    from,
    to,
    thicknessMm: 700,
    baseMm: -300,
    heightMm: 300,
  })),
  sleeves: [],
  bars: [],
};

/** Characters of a GlobalId, in IFC's order (buildingSMART, 'IFC GUID'). */
const DIGITS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$';
/** 22 characters that tell instances of a file apart. */
const globalId = (n: number): string => {
  let [text, rest] = ['', n];
  for (let i = 0; i < 6; i++) [text, rest] = [DIGITS[rest % 64]! + text, Math.floor(rest / 64)];
  return `0shutterwright00${text}`;
};

const real = (v: number): string => (Number.isInteger(v) ? `${v}.` : String(v));

/** The model as the text of an IFC4 file in mm. */
export const ifcText = (house: HouseOfModel): string => {
  const lines: string[] = [];
  let ids = 0;
  const add = (text: string): string => {
    lines.push(`#${lines.length + 1}=${text};`);
    return `#${lines.length}`;
  };
  const root = (entity: string, rest: string): string => add(`${entity}('${globalId(++ids)}',$,${rest})`);
  const point = (...p: number[]): string => add(`IFCCARTESIANPOINT((${p.map(real).join(',')}))`);
  const direction = (...p: number[]): string => add(`IFCDIRECTION((${p.map(real).join(',')}))`);
  const origin = point(0, 0, 0);
  const up = direction(0, 0, 1);
  const world = add(`IFCAXIS2PLACEMENT3D(${origin},$,$)`);
  const context = add(`IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-05,${world},$)`);
  const units = [
    add('IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.)'),
    add('IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.)'),
    add('IFCSIUNIT(*,.VOLUMEUNIT.,$,.CUBIC_METRE.)'),
    add('IFCSIUNIT(*,.PLANEANGLEUNIT.,$,.RADIAN.)'),
  ];
  const assignment = add(`IFCUNITASSIGNMENT((${units.join(',')}))`);
  const project = root('IFCPROJECT', `'House at the corner',$,$,$,$,(${context}),${assignment}`);
  const ground = add(`IFCLOCALPLACEMENT($,${world})`);
  const site = root('IFCSITE', `'Site',$,$,${ground},$,$,.ELEMENT.,$,$,$,$,$`);
  const building = root('IFCBUILDING', `'House',$,$,${ground},$,$,.ELEMENT.,$,$,$`);
  const storey = (name: string, levelMm: number): { readonly id: string; readonly placement: string } => {
    const at = add(`IFCAXIS2PLACEMENT3D(${point(0, 0, levelMm)},$,$)`);
    const placement = add(`IFCLOCALPLACEMENT(${ground},${at})`);
    return { id: root('IFCBUILDINGSTOREY', `'${name}',$,$,${placement},$,$,.ELEMENT.,${real(levelMm)}`), placement };
  };
  // Above before below: storeys of a file come in any order.
  const upper = storey('Ground floor', 2350);
  const lower = storey('Foundation', 0);
  root('IFCRELAGGREGATES', `$,$,${project},(${site})`);
  root('IFCRELAGGREGATES', `$,$,${site},(${building})`);
  root('IFCRELAGGREGATES', `$,$,${building},(${upper.id},${lower.id})`);

  const shapeOf = (profile: string, placement: string, depth: number): string => {
    const solid = add(`IFCEXTRUDEDAREASOLID(${profile},${placement},${up},${real(depth)})`);
    const body = add(`IFCSHAPEREPRESENTATION(${context},'Body','SweptSolid',(${solid}))`);
    return add(`IFCPRODUCTDEFINITIONSHAPE($,$,(${body}))`);
  };
  const strip = (
    entity: string,
    last: string,
    s: Omit<WallOfModel, 'material' | 'storey'>,
    on: typeof lower,
    onMm: number,
  ) => {
    const [dx, dy] = [s.to[0] - s.from[0], s.to[1] - s.from[1]];
    const length = Math.hypot(dx, dy);
    const axes = add(
      `IFCAXIS2PLACEMENT3D(${point(s.from[0], s.from[1], s.baseMm - onMm)},${up},${direction(dx / length, dy / length, 0)})`,
    );
    const placement = add(`IFCLOCALPLACEMENT(${on.placement},${axes})`);
    const middle = add(`IFCAXIS2PLACEMENT2D(${point(length / 2, 0)},$)`);
    const profile = add(`IFCRECTANGLEPROFILEDEF(.AREA.,$,${middle},${real(length)},${real(s.thicknessMm)})`);
    const shape = shapeOf(profile, world, s.heightMm);
    return root(entity, `'${s.name}',$,$,${placement},${shape},$,${last}`);
  };
  const walls = house.walls.map((w) => {
    const on = w.storey === 0 ? lower : upper;
    return { w, id: strip('IFCWALL', '.SOLIDWALL.', w, on, w.storey === 0 ? 0 : 2350) };
  });
  const footings = house.footings.map((f) => strip('IFCFOOTING', '.STRIP_FOOTING.', f, lower, 0));
  const sleeves = house.sleeves.map((s) => {
    const [x, y, z] = s.at;
    const [dx, dy] = s.along === 'x' ? [1, 0] : [0, 1];
    const start = point(x - (dx * s.lengthMm) / 2, y - (dy * s.lengthMm) / 2, z);
    const axes = add(`IFCAXIS2PLACEMENT3D(${start},${direction(dx, dy, 0)},${up})`);
    const placement = add(`IFCLOCALPLACEMENT(${lower.placement},${axes})`);
    const middle = add(`IFCAXIS2PLACEMENT2D(${point(0, 0)},$)`);
    const profile = add(`IFCCIRCLEPROFILEDEF(.AREA.,$,${middle},${real(s.radiusMm)})`);
    return root(
      'IFCPIPESEGMENT',
      `'${s.name}',$,$,${placement},${shapeOf(profile, world, s.lengthMm)},$,.RIGIDSEGMENT.`,
    );
  });
  const bars = house.bars.map((b) => {
    const line = add(`IFCPOLYLINE((${b.path.map((p) => point(...p)).join(',')}))`);
    const solid = add(`IFCSWEPTDISKSOLID(${line},${real(b.diameterMm / 2)},$,$,$)`);
    const body = add(`IFCSHAPEREPRESENTATION(${context},'Body','AdvancedSweptSolid',(${solid}))`);
    const shape = add(`IFCPRODUCTDEFINITIONSHAPE($,$,(${body}))`);
    const placement = add(`IFCLOCALPLACEMENT(${lower.placement},${world})`);
    return root(
      'IFCREINFORCINGBAR',
      `'${b.name}',$,$,${placement},${shape},$,$,${real(b.diameterMm)},$,$,.MAIN.,.TEXTURED.`,
    );
  });
  const below = [...walls.filter(({ w }) => w.storey === 0).map(({ id }) => id), ...footings, ...sleeves, ...bars];
  root('IFCRELCONTAINEDINSPATIALSTRUCTURE', `$,$,(${below.join(',')}),${lower.id}`);
  const above = walls.filter(({ w }) => w.storey === 1).map(({ id }) => id);
  if (above.length > 0) root('IFCRELCONTAINEDINSPATIALSTRUCTURE', `$,$,(${above.join(',')}),${upper.id}`);
  for (const name of [...new Set(house.walls.map((w) => w.material))]) {
    const material = add(`IFCMATERIAL('${name}',$,$)`);
    const of = walls.filter(({ w }) => w.material === name).map(({ id }) => id);
    root('IFCRELASSOCIATESMATERIAL', `$,$,(${of.join(',')}),${material}`);
  }
  const head = [
    'ISO-10303-21;',
    'HEADER;',
    "FILE_DESCRIPTION(('ViewDefinition [DesignTransferView]'),'2;1');",
    "FILE_NAME('corner-house.ifc','2024-05-02T08:00:00',(''),(''),'','','');",
    "FILE_SCHEMA(('IFC4'));",
    'ENDSEC;',
    'DATA;',
  ];
  return `${[...head, ...lines, 'ENDSEC;', 'END-ISO-10303-21;'].join('\n')}\n`;
};
