/**
 * What the engine is given to tessellate. On shapes that lack what their schema demands it may run without end or break down, so every instance of a shape
 * is held against this table first; what is not in it is not given. Source of the attributes: IFC4 and IFC4X3_ADD2 EXPRESS.
 */

import { type Line, listOf, refOf, type Value } from './attributes.js';
import type { Curves } from './curves.js';
import type { Lines } from './lines.js';

/**
 * Entity: its category, then attributes with what they must be: a category, 'number', 'positive' or 'any'; with '?' it may be absent, with '+' it is a list
 * of at least one.
 */
const TABLE: Readonly<Record<string, string>> = {
  IfcExtrudedAreaSolid: 'solid SweptArea:profile Position:place? ExtrudedDirection:direction Depth:positive',
  IfcExtrudedAreaSolidTapered:
    'solid SweptArea:profile Position:place? ExtrudedDirection:direction Depth:positive EndSweptArea:profile',
  IfcRevolvedAreaSolid: 'solid SweptArea:profile Position:place? Axis:axis Angle:number',
  IfcSweptDiskSolid: 'solid Directrix:curve Radius:positive InnerRadius:positive? StartParam:number? EndParam:number?',
  IfcSweptDiskSolidPolygonal:
    'solid Directrix:curve Radius:positive InnerRadius:positive? StartParam:number? EndParam:number? FilletRadius:positive?',
  IfcFixedReferenceSweptAreaSolid: 'solid SweptArea:profile Position:place? Directrix:curve FixedReference:direction',
  IfcSurfaceCurveSweptAreaSolid: 'solid SweptArea:profile Position:place? Directrix:curve ReferenceSurface:surface',
  IfcSphere: 'solid Position:place Radius:positive',
  IfcRightCircularCone: 'solid Position:place Height:positive BottomRadius:positive',
  IfcRightCircularCylinder: 'solid Position:place Height:positive Radius:positive',
  IfcRectangularPyramid: 'solid Position:place XLength:positive YLength:positive Height:positive',
  IfcAdvancedBrep: 'solid Outer:shell',
  IfcAdvancedBrepWithVoids: 'solid Outer:shell Voids:shell+',
  IfcFacetedBrep: 'solid Outer:shell',
  IfcClosedShell: 'shell CfsFaces:face+',
  IfcOpenShell: 'shell CfsFaces:face+',
  IfcAdvancedFace: 'face Bounds:bound+ FaceSurface:surface',
  IfcFaceSurface: 'face Bounds:bound+ FaceSurface:surface',
  IfcFace: 'face Bounds:bound+',
  IfcFaceOuterBound: 'bound Bound:loop',
  IfcFaceBound: 'bound Bound:loop',
  IfcEdgeLoop: 'loop EdgeList:edge+',
  IfcPolyLoop: 'loop Polygon:point+',
  IfcOrientedEdge: 'edge EdgeElement:edge',
  IfcEdgeCurve: 'edge EdgeStart:vertex EdgeEnd:vertex EdgeGeometry:curve',
  IfcVertexPoint: 'vertex VertexGeometry:point',
  IfcPlane: 'surface Position:place',
  IfcCylindricalSurface: 'surface Position:place Radius:positive',
  IfcSphericalSurface: 'surface Position:place Radius:positive',
  IfcToroidalSurface: 'surface Position:place MajorRadius:positive MinorRadius:positive',
  IfcSurfaceOfLinearExtrusion: 'surface SweptCurve:profile Position:place? ExtrudedDirection:direction Depth:positive',
  IfcSurfaceOfRevolution: 'surface SweptCurve:profile Position:place? AxisPosition:axis',
  IfcBSplineSurfaceWithKnots:
    'surface ControlPointsList:grid UDegree:positive VDegree:positive UMultiplicities:number+ VMultiplicities:number+ UKnots:number+ VKnots:number+',
  IfcRationalBSplineSurfaceWithKnots:
    'surface ControlPointsList:grid UDegree:positive VDegree:positive UMultiplicities:number+ VMultiplicities:number+ UKnots:number+ VKnots:number+',
  IfcBSplineCurveWithKnots: 'curve ControlPointsList:point+ Degree:positive KnotMultiplicities:number+ Knots:number+',
  IfcRationalBSplineCurveWithKnots:
    'curve ControlPointsList:point+ Degree:positive KnotMultiplicities:number+ Knots:number+ WeightsData:number+',
  IfcLine: 'curve Pnt:point Dir:vector',
  IfcVector: 'vector Orientation:direction Magnitude:positive',
  IfcCircle: 'curve Position:place Radius:positive',
  IfcEllipse: 'curve Position:place SemiAxis1:positive SemiAxis2:positive',
  IfcPolyline: 'curve Points:point+',
  IfcTrimmedCurve: 'curve BasisCurve:curve Trim1:trim+ Trim2:trim+',
  IfcCompositeCurve: 'curve Segments:segment+',
  IfcCompositeCurveSegment: 'segment ParentCurve:curve',
  IfcIndexedPolyCurve: 'curve Points:points Segments:any?',
  IfcCartesianPointList2D: 'points CoordList:numbers+',
  IfcCartesianPointList3D: 'points CoordList:numbers+',
  IfcAxis2Placement3D: 'place Location:point Axis:direction? RefDirection:direction?',
  IfcAxis2Placement2D: 'place Location:point RefDirection:direction?',
  IfcAxis1Placement: 'axis Location:point Axis:direction?',
  IfcCartesianPoint: 'point Coordinates:number+',
  IfcDirection: 'direction DirectionRatios:number+',
  IfcCartesianTransformationOperator2D: 'operator LocalOrigin:point Axis1:direction? Axis2:direction? Scale:positive?',
  IfcIShapeProfileDef:
    'profile Position:place? OverallWidth:positive OverallDepth:positive WebThickness:positive FlangeThickness:positive',
  IfcAsymmetricIShapeProfileDef: 'profile Position:place? OverallDepth:positive WebThickness:positive',
  IfcTShapeProfileDef:
    'profile Position:place? Depth:positive FlangeWidth:positive WebThickness:positive FlangeThickness:positive',
  IfcLShapeProfileDef: 'profile Position:place? Depth:positive Width:positive? Thickness:positive',
  IfcUShapeProfileDef:
    'profile Position:place? Depth:positive FlangeWidth:positive WebThickness:positive FlangeThickness:positive',
  IfcCShapeProfileDef: 'profile Position:place? Depth:positive Width:positive WallThickness:positive Girth:positive',
  IfcZShapeProfileDef:
    'profile Position:place? Depth:positive FlangeWidth:positive WebThickness:positive FlangeThickness:positive',
  IfcEllipseProfileDef: 'profile Position:place? SemiAxis1:positive SemiAxis2:positive',
  IfcRectangleProfileDef: 'profile Position:place? XDim:positive YDim:positive',
  IfcRoundedRectangleProfileDef: 'profile Position:place? XDim:positive YDim:positive RoundingRadius:positive',
  IfcRectangleHollowProfileDef: 'profile Position:place? XDim:positive YDim:positive WallThickness:positive',
  IfcCircleProfileDef: 'profile Position:place? Radius:positive',
  IfcCircleHollowProfileDef: 'profile Position:place? Radius:positive WallThickness:positive',
  IfcTrapeziumProfileDef:
    'profile Position:place? BottomXDim:positive TopXDim:positive YDim:positive TopXOffset:number',
  IfcArbitraryClosedProfileDef: 'profile OuterCurve:curve',
  IfcArbitraryProfileDefWithVoids: 'profile OuterCurve:curve InnerCurves:curve+',
  IfcArbitraryOpenProfileDef: 'profile Curve:curve',
  IfcCenterLineProfileDef: 'profile Curve:curve Thickness:positive',
  IfcDerivedProfileDef: 'profile ParentProfile:profile Operator:operator',
  IfcCompositeProfileDef: 'profile Profiles:profile+',
};

interface Demand {
  readonly attribute: string;
  readonly kind: string;
  readonly optional: boolean;
  readonly list: boolean;
}

interface Rule {
  readonly category: string;
  readonly demands: readonly Demand[];
}

const RULES: ReadonlyMap<string, Rule> = new Map(
  Object.entries(TABLE).map(([entity, text]) => {
    const [category = '', ...attributes] = text.split(' ');
    const demands = attributes.map((attribute): Demand => {
      const [, name = '', kind = '', mark] = /^(\w+):(\w+)([?+])?$/.exec(attribute) ?? [];
      return { attribute: name, kind, optional: mark === '?', list: mark === '+' };
    });
    return [entity, { category, demands }];
  }),
);

/** Most instances of one shape that the engine is given. */
const MOST_OF_ONE = 400_000;
/** No number of a shape is larger, in any unit; no size is smaller. */
const LARGEST = 1e9;
const SMALLEST = 1e-6;

const isNumber = (value: Value | undefined): value is number => typeof value === 'number' && Math.abs(value) <= LARGEST;

/** Notes what is referred to, with what it must be; false where the value is not what is demanded. */
const meets = (value: Value | undefined, kind: string, open: Open[]): boolean => {
  const isList = Array.isArray(value);
  switch (kind) {
    case 'any':
      return true;
    case 'number':
      return isNumber(value);
    case 'positive':
      return isNumber(value) && value >= SMALLEST;
    case 'numbers':
      return isList && value.length >= 2 && value.every(isNumber);
    case 'grid':
      return (
        isList &&
        value.length > 1 &&
        value.every((row) => listOf(row).length > 1 && listOf(row).every((point) => meets(point, 'point', open)))
      );
    case 'trim':
      return refOf(value) === null || meets(value, 'point', open);
    default: {
      const id = refOf(value);
      if (id === null) return false;
      open.push({ id, category: kind });
      return true;
    }
  }
};

interface Open {
  readonly id: number;
  readonly category: string;
}

/** Axis and RefDirection stand together or not at all. Source: IFC4, IfcAxis2Placement3D, rule AxisAndRefDirProvision. */
const halfAxes = (line: Line): boolean =>
  line.Location !== undefined &&
  line.Axis !== undefined &&
  line.RefDirection !== undefined &&
  (line.Axis === null) !== (line.RefDirection === null);

const satisfies = (line: Line, { demands }: Rule, open: Open[]): boolean =>
  demands.every(({ attribute, kind, optional, list }) => {
    const value = line[attribute];
    if (value === null || value === undefined) return optional;
    if (!list) return meets(value, kind, open);
    const items = listOf(value);
    return items.length > 0 && items.every((item) => meets(item, kind, open));
  });

/** Whether a shape and all that it is made of may be given to the engine. */
export const isWellFormed = (lines: Lines, curves: Curves, item: number): boolean => {
  const seen = new Set<number>();
  const open: Open[] = [{ id: item, category: 'solid' }];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    const line = lines.get(at.id);
    const rule = line === null ? undefined : RULES.get(lines.entity(line));
    if (line === null || rule === undefined || rule.category !== at.category) return false;
    if (seen.has(at.id)) continue;
    seen.add(at.id);
    if (seen.size > MOST_OF_ONE || halfAxes(line) || !satisfies(line, rule, open)) return false;
    if (rule.category === 'curve' && curves.isBroken(line)) return false;
  }
  return true;
};
