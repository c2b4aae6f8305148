/** What is made when it is first asked for, and once: a layout that several tests look at. */
export const memo = <T>(make: () => T): (() => T) => {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
};
