package milewarden.matching.line;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/**
 * Going down to the nearest edge, and looking at the few of a line that is drawn coarsely, finds
 * the very edge that a search of all edges finds, so that no result depends on which was used.
 */
final class FootSearchTest {
  private static final int PLACES = 4000;

  private interface Way {
    /** East and north in metres at a part of the way, 0 to 1. */
    double[] at(double part);
  }

  private static Way circle(double radiusM) {
    return p ->
        new double[] {radiusM * Math.cos(2 * Math.PI * p), radiusM * Math.sin(2 * Math.PI * p)};
  }

  /** Bends of 8 m and more radius one after the other. */
  private static Way winding(double overM) {
    return p -> new double[] {300 * p, overM * Math.sin(2 * Math.PI * 5 * p)};
  }

  private static Way corners() {
    return p -> new double[] {100 * Math.abs(4 * p - 2), 30 * Math.abs((8 * p) % 2 - 1)};
  }

  /**
   * Edges as long as their turn, some up to ten times as long as others, all vertices off a little.
   */
  private static Edges drawn(
      Way way, boolean closed, int edges, double offM, boolean even, SplittableRandom random) {
    double[] parts = new double[edges + 1];
    for (int i = 1; i <= edges; i++)
      parts[i] = parts[i - 1] + (even ? 1 : 0.1 + 0.9 * random.nextDouble());
    double[] x = new double[edges + 1];
    double[] y = new double[edges + 1];
    double[] chainage = new double[edges + 1];
    for (int i = 0; i <= edges; i++) {
      double[] at = way.at(parts[i] / parts[edges]);
      x[i] = at[0] + offM * random.nextDouble(-1, 1);
      y[i] = at[1] + offM * random.nextDouble(-1, 1);
      if (closed && i == edges) {
        x[i] = x[0];
        y[i] = y[0];
      }
      if (i > 0)
        // The plane's scale is not that of the ellipsoid, by up to this in 20 km.
        chainage[i] = chainage[i - 1] + (1 + 5e-6) * Math.hypot(x[i] - x[i - 1], y[i] - y[i - 1]);
    }
    return new Edges(closed, x, y, chainage);
  }

  private static Map<String, Edges> lines(long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    Map<String, Way> ways = new LinkedHashMap<>();
    ways.put("circle of 36.8 m", circle(36.8));
    ways.put("circle of 5 m", circle(5));
    ways.put("circle of 1 m", circle(1));
    ways.put("winding a little", winding(5));
    ways.put("winding much", winding(25));
    ways.put("corners", corners());
    Map<String, Edges> lines = new LinkedHashMap<>();
    ways.forEach(
        (name, way) -> {
          for (int edges : new int[] {3, 40, 400, 1200, 12_000})
            for (double offM : new double[] {0, 1e-4, 0.01})
              for (boolean even : new boolean[] {true, false})
                lines.put(
                    "%s, %d edges %s, off by %s m".formatted(name, edges, even, offM),
                    drawn(way, name.startsWith("circle"), edges, offM, even, random));
        });
    return lines;
  }

  @Test
  void goingDownFindsTheEdgeThatASearchOfAllFinds() {
    SplittableRandom random = new SplittableRandom(31);
    lines(32)
        .forEach(
            (name, edges) -> {
              FootSearch search = new FootSearch(edges);
              for (int i = 0; i < PLACES; i++) {
                double[] p = near(edges, random);
                double windowM = i % 4 == 0 ? 1 : 3;
                assertThat(search.edge(p[0], p[1], p[2], windowM))
                    .as("%s, place %d at %s, %s near %s", name, i, p[0], p[1], p[2])
                    .isEqualTo(search.searched(p[0], p[1], p[2], windowM));
              }
            });
  }

  @Test
  void noEdgeWithinReachIsNearerOnALineDrawnFinely() {
    SplittableRandom random = new SplittableRandom(33);
    Edges edges = drawn(circle(36.8), true, 12_000, 0, true, random);
    FootSearch search = new FootSearch(edges);
    List<Integer> skipped = new ArrayList<>();
    for (int i = 0; i < PLACES; i++) {
      double[] p = near(edges, random);
      int found = search.edge(p[0], p[1], p[2], 3);
      double least = edges.squared(p[0], p[1], found);
      // The window may have been left for a nearer edge, and then nothing is said of those in it.
      if (found < edges.at(p[2] - 3) || found > edges.at(p[2] + 3)) {
        skipped.add(i);
        continue;
      }
      for (int g = edges.at(p[2] - 3); g <= edges.at(p[2] + 3); g++)
        assertThat(edges.within(p[0], p[1], g, p[2] - 3, p[2] + 3))
            .as("place %d, edge %d", i, g)
            .isGreaterThanOrEqualTo(least);
    }
    assertThat(skipped).hasSizeLessThan(PLACES / 2);
  }

  /** A place beside the line, and a chainage not far from its own: over laps and beyond ends. */
  private static double[] near(Edges edges, SplittableRandom random) {
    double at =
        edges.closed
            ? random.nextDouble(-2 * edges.lengthM, 3 * edges.lengthM)
            : random.nextDouble(-2, edges.lengthM + 2);
    int g = edges.at(at);
    int e = edges.ofLap(g);
    double t =
        (at - Math.floorDiv(g, edges.count) * edges.lengthM - edges.chainage[e]) * edges.perM[e];
    // On vertices, too, and at what is as far from two edges.
    if (random.nextInt(4) == 0) t = 0;
    double offM = random.nextInt(3) == 0 ? random.nextDouble(-40, 40) : random.nextDouble(-6, 6);
    if (random.nextInt(8) == 0) offM = 0;
    double per = Math.sqrt(edges.perSquare[e]);
    return new double[] {
      edges.x[e] + t * edges.dx[e] + offM * per * edges.dy[e],
      edges.y[e] + t * edges.dy[e] - offM * per * edges.dx[e],
      at + random.nextDouble(-3, 3) * random.nextDouble()
    };
  }
}
