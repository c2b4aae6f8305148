/**
 * The entities of IFC4 that are written, each with its attributes in the order of the schema (buildingSMART, IFC4 ADD2 TC1), parted by blanks. The tests
 * hold this table and every written line against the schema as another project has generated it.
 */

const ROOT = 'GlobalId OwnerHistory Name Description';
const OBJECT = `${ROOT} ObjectType` as const;
const PRODUCT = `${OBJECT} ObjectPlacement Representation` as const;
const TYPE = `${ROOT} ApplicableOccurrence HasPropertySets RepresentationMaps Tag ElementType PredefinedType` as const;

export const ENTITIES = {
  IfcProject: `${OBJECT} LongName Phase RepresentationContexts UnitsInContext`,
  IfcSite: `${PRODUCT} LongName CompositionType RefLatitude RefLongitude RefElevation LandTitleNumber SiteAddress`,
  IfcBuilding: `${PRODUCT} LongName CompositionType ElevationOfRefHeight ElevationOfTerrain BuildingAddress`,
  IfcBuildingStorey: `${PRODUCT} LongName CompositionType Elevation`,
  IfcUnitAssignment: 'Units',
  IfcSIUnit: '*Dimensions UnitType Prefix Name',
  IfcConversionBasedUnit: 'Dimensions UnitType Name ConversionFactor',
  IfcDimensionalExponents:
    'LengthExponent MassExponent TimeExponent ElectricCurrentExponent ThermodynamicTemperatureExponent AmountOfSubstanceExponent LuminousIntensityExponent',
  IfcMeasureWithUnit: 'ValueComponent UnitComponent',
  IfcGeometricRepresentationContext:
    'ContextIdentifier ContextType CoordinateSpaceDimension Precision WorldCoordinateSystem TrueNorth',
  IfcGeometricRepresentationSubContext:
    'ContextIdentifier ContextType *CoordinateSpaceDimension *Precision *WorldCoordinateSystem *TrueNorth ParentContext TargetScale TargetView UserDefinedTargetView',
  IfcMapConversion: 'SourceCRS TargetCRS Eastings Northings OrthogonalHeight XAxisAbscissa XAxisOrdinate Scale',
  IfcProjectedCRS: 'Name Description GeodeticDatum VerticalDatum MapProjection MapZone MapUnit',
  IfcCartesianPoint: 'Coordinates',
  IfcDirection: 'DirectionRatios',
  IfcAxis2Placement2D: 'Location RefDirection',
  IfcAxis2Placement3D: 'Location Axis RefDirection',
  IfcLocalPlacement: 'PlacementRelTo RelativePlacement',
  IfcRelAggregates: `${ROOT} RelatingObject RelatedObjects`,
  IfcRelContainedInSpatialStructure: `${ROOT} RelatedElements RelatingStructure`,
  IfcRelDefinesByType: `${ROOT} RelatedObjects RelatingType`,
  IfcRelDefinesByProperties: `${ROOT} RelatedObjects RelatingPropertyDefinition`,
  IfcRelAssignsToGroup: `${ROOT} RelatedObjects RelatedObjectsType RelatingGroup`,
  IfcRelAssignsToProduct: `${ROOT} RelatedObjects RelatedObjectsType RelatingProduct`,
  IfcRelAssignsToResource: `${ROOT} RelatedObjects RelatedObjectsType RelatingResource`,
  IfcRelAssociatesDocument: `${ROOT} RelatedObjects RelatingDocument`,
  IfcRelAssociatesMaterial: `${ROOT} RelatedObjects RelatingMaterial`,
  IfcRelConnectsWithRealizingElements: `${ROOT} ConnectionGeometry RelatingElement RelatedElement RealizingElements ConnectionType`,
  IfcRelDeclares: `${ROOT} RelatingContext RelatedDefinitions`,
  IfcGroup: `${OBJECT}`,
  IfcConstructionProductResource: `${OBJECT} Identification LongDescription Usage BaseCosts BaseQuantity PredefinedType`,
  IfcDocumentInformation:
    'Identification Name Description Location Purpose IntendedUse Scope Revision DocumentOwner Editors CreationTime LastRevisionTime ElectronicFormat ValidFrom ValidUntil Confidentiality Status',
  IfcDocumentReference: 'Location Identification Name Description ReferencedDocument',
  IfcMaterial: 'Name Description Category',
  IfcElementAssembly: `${PRODUCT} Tag AssemblyPlace PredefinedType`,
  IfcBuildingElementProxy: `${PRODUCT} Tag PredefinedType`,
  IfcBuildingElementProxyType: `${TYPE}`,
  IfcMember: `${PRODUCT} Tag PredefinedType`,
  IfcMemberType: `${TYPE}`,
  IfcPlate: `${PRODUCT} Tag PredefinedType`,
  IfcPlateType: `${TYPE}`,
  IfcRailing: `${PRODUCT} Tag PredefinedType`,
  IfcRailingType: `${TYPE}`,
  IfcMechanicalFastener: `${PRODUCT} Tag NominalDiameter NominalLength PredefinedType`,
  IfcMechanicalFastenerType: `${TYPE} NominalDiameter NominalLength`,
  IfcWall: `${PRODUCT} Tag PredefinedType`,
  IfcPropertySet: `${ROOT} HasProperties`,
  IfcPropertySingleValue: 'Name Description NominalValue Unit',
  IfcPropertyListValue: 'Name Description ListValues Unit',
  IfcRectangleProfileDef: 'ProfileType ProfileName Position XDim YDim',
  IfcCircleProfileDef: 'ProfileType ProfileName Position Radius',
  IfcArbitraryClosedProfileDef: 'ProfileType ProfileName OuterCurve',
  IfcPolyline: 'Points',
  IfcExtrudedAreaSolid: 'SweptArea Position ExtrudedDirection Depth',
  IfcShapeRepresentation: 'ContextOfItems RepresentationIdentifier RepresentationType Items',
  IfcProductDefinitionShape: 'Name Description Representations',
  IfcRepresentationMap: 'MappingOrigin MappedRepresentation',
  IfcMappedItem: 'MappingSource MappingTarget',
  IfcCartesianTransformationOperator3D: 'Axis1 Axis2 LocalOrigin Scale Axis3',
  IfcStyledItem: 'Item Styles Name',
  IfcSurfaceStyle: 'Name Side Styles',
  IfcSurfaceStyleRendering:
    'SurfaceColour Transparency DiffuseColour TransmissionColour DiffuseTransmissionColour ReflectionColour SpecularColour SpecularHighlight ReflectanceMethod',
  IfcColourRgb: 'Name Red Green Blue',
  IfcPresentationLayerAssignment: 'Name Description AssignedItems Identifier',
} as const;

export type EntityName = keyof typeof ENTITIES;

type Words<S extends string> = S extends `${infer First} ${infer Rest}` ? First | Words<Rest> : S;

/** Attributes that the schema derives stand as '*' in the file; they are marked here by a star and cannot be given. */
export type AttributeOf<E extends EntityName> = Exclude<Words<(typeof ENTITIES)[E]>, `*${string}`>;
