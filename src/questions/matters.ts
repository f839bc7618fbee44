/** The ratio of lives that matters where nobody says otherwise. */
export const MATTERS = 1.15;
