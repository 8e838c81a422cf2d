/** Below this, rails of many nucs stand side by side instead of lying one below the other. */
export const horizontalRailsFromPx = 720;
/** Below this, the words on one lying rail run into each other. */
export const horizontalRailFromPx = 620;
