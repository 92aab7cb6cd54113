/**
 * Of what the lab mixes into the wide lobe of a window, this share goes beyond 2.5 degrees: by goniometric rendering of
 * that lobe (`samples/windows`; 0.872 to 0.883 where nothing else scatters).
 */
export const SHARE_BEYOND = 0.876
