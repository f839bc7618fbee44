/**
 * Thermal impedance of ten power modules, three inspectors, three readings each: R. E. Houf & D. B. Berman, J. Quality Technology 20 (1988);
 * the listing from memory, its mean squares as published. A line a module, readings of an inspector together.
 */
export const MODULES = `37 38 37 41 41 40 41 42 41
42 41 43 42 42 42 43 42 43
30 31 31 31 31 31 29 30 28
42 43 42 43 43 43 42 42 42
28 30 29 29 30 29 31 29 29
42 42 43 45 45 45 44 46 45
25 26 27 28 28 30 29 27 27
40 40 40 43 42 42 43 43 41
25 25 25 27 29 28 26 26 26
35 34 34 35 35 34 35 34 35`;
