/**
 * Positions, geodesics, radii and lines on the WGS 84 ellipsoid. The only package that imports the
 * geodesic library; no sphere and no map projection ever comes out of here.
 */
@NullMarked
package milewarden.geodesy;

import org.jspecify.annotations.NullMarked;
