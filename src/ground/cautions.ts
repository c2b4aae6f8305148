/** The cautions that every drawing, report and list carries. */

export const CAUTIONS: readonly string[] = [
  'This layout is an aid to a competent person. It does not replace the design, the check and the inspection of temporary works by licensed or appointed people under local codes, nor the instructions of the maker of the gear.',
  'Rate of rise, concrete temperature, mix and vibration on the day govern the pressure.',
  'Nobody works under a form that is not braced.',
  'Strip only when the strength of the concrete is proven.',
];
