/** The usual cautions, for whatever is printed or written for the workshop. */
export const RESIN_CAUTIONS =
  'Uncured resin irritates and can sensitise skin, and harms eyes; so can unwashed coupons and used wash liquid. Wear ' +
  'nitrile gloves and goggles, work in moving fresh air. Wash solvents burn and their vapour ignites: no flame, no ' +
  'sparks. Do not look into curing light. Collect resin and wash waste as local rules say, never down the drain. ' +
  'Follow the safety data sheets of resin, solvent and ink; they come before this page.'
