package milewarden.benchmark;

import java.util.Locale;

/** The rows of the engine, of reading and of the whole pipeline. */
final class EngineSpeed {
  private static final String[] CASES = {"LOOP_MIN", "LOOP_EXT", "OUT_BACK_MIN", "OUT_BACK_EXT"};
  private static final int ROUNDS = 7;
  // The goal is 0.5 us a fix on a machine where an inverse of GeographicLib takes 621 ns.
  private static final double MATCHING_PER_INVERSE = 0.8;
  private static final double FIXES = Hour.LOOP_MIN.track.size();

  private final Table table;

  EngineSpeed(Table table) {
    this.table = table;
  }

  /** From the bytes to the result. More than 300 files of each side are gone before any counts. */
  void pipeline() {
    InTurn m =
        new InTurn(ROUNDS, 0.3)
            .with("PipelineBenchmark.librariesByTree$", 100)
            // Their reader is warm by now, and a line of 2,000 vertices is a long loop.
            .with("PipelineBenchmark.libraries$", 20)
            .with("PipelineBenchmark.ours(SameJob)?$", 400)
            .measure();
    for (String c : CASES) {
      pipeline(m, c, "the same job", "oursSameJob");
      pipeline(m, c, "everything", "ours");
    }
  }

  private void pipeline(InTurn m, String of, String job, String side) {
    double fixes = Hour.valueOf(of).track.size();
    double ours = m.ns("PipelineBenchmark." + side + " " + of) / fixes / 1000;
    double byLine = m.ns("PipelineBenchmark.libraries " + of) / fixes / 1000 / ours;
    double byTree = m.ns("PipelineBenchmark.librariesByTree " + of) / fixes / 1000 / ours;
    table.least(
        "whole pipeline, %s, %s".formatted(of.toLowerCase(Locale.ROOT).replace('_', ' '), job),
        "%s µs a fix; jpx, GeographicLib and JTS take %s times as long by its linear referencing, %s times by its tree"
            .formatted(Table.of(ours), Table.of(byLine), Table.of(byTree)),
        byLine,
        of.endsWith("MIN") ? 20 : 30,
        " times");
  }

  void reading() {
    InTurn m =
        new InTurn(ROUNDS, 0.4)
            .with("ReadingBenchmark\\.\\w+Jpx$", 40)
            // A reader of a millisecond is compiled to its end only after millions of fixes.
            .with("ReadingBenchmark\\.(?!\\w+Jpx)\\w+$", 6000)
            .measure();
    for (String of : new String[] {"Min", "Ext"}) {
      double ours = a("gpx" + of, m);
      double scan = a("gpx" + of + "Scan", m);
      table.most(
          "reading GPX, " + of.toLowerCase(Locale.ROOT),
          "%s ns a fix, %s times the bare scan of its tokens; jpx %s times ours"
              .formatted(
                  Table.of(ours), Table.of(ours / scan), Table.of(a("gpx" + of + "Jpx", m) / ours)),
          ours / scan,
          1.8,
          " times the scan");
    }
    double gpx = a("gpxMin", m);
    double scan = a("gpxMinScan", m);
    // Held against the scan, the limit that no work on the reader of GPX moves: as GPX became
    // faster, "as fast as GPX" would have become a harder goal each time.
    for (String format : new String[] {"fit", "tcx", "nmea", "csv"}) {
      double ours = a(format, m);
      table.most(
          "reading " + format.toUpperCase(Locale.ROOT),
          "%s ns a fix, %s times the bare scan of GPX's tokens, %s times our GPX"
              .formatted(Table.of(ours), Table.of(ours / scan), Table.of(ours / gpx)),
          ours / scan,
          1,
          " times the scan");
    }
    table.context(
        "reading GeoJSON",
        "%s ns a fix, %s times GPX"
            .formatted(Table.of(a("geoJson", m)), Table.of(a("geoJson", m) / gpx)));
    table.context(
        "limits: bringing the file into memory; its SHA-256",
        "%s and %s ns a fix".formatted(Table.of(a("fileAlone", m)), Table.of(a("sha256", m))));
  }

  private static double a(String name, InTurn m) {
    return m.ns("ReadingBenchmark." + name) / FIXES;
  }

  void engine() {
    InTurn m =
        new InTurn(ROUNDS, 0.2)
            .with("EngineBenchmark\\.nearestByJts$", 20)
            .with("EngineBenchmark\\.(?!nearestByJts)\\w+$", 400)
            .measure();
    table.context(
        "length of a step; the same by GeographicLib's inverse; onto the plane",
        "%s, %s and %s ns"
            .formatted(
                Table.of(m.ns("EngineBenchmark.metric") / FIXES),
                Table.of(m.ns("EngineBenchmark.inverseByGeographicLib") / FIXES),
                Table.of(m.ns("EngineBenchmark.plane") / FIXES)));
    double inverse = m.ns("EngineBenchmark.inverseByGeographicLib") / FIXES;
    for (EngineBenchmark.Ground g : EngineBenchmark.Ground.values()) {
      double ours = m.ns("EngineBenchmark.match " + g) / g.track.size();
      double jts = m.ns("EngineBenchmark.nearestByJts " + g) / g.track.size();
      table.most(
          "matching, %s of %d vertices"
              .formatted(g.name().toLowerCase(Locale.ROOT).replace('_', ' '), g.vertices()),
          "%s ns a fix, %s inverses of GeographicLib; nearest place by JTS %s ns"
              .formatted(Table.of(ours), Table.of(ours / inverse), Table.of(jts)),
          ours / inverse,
          MATCHING_PER_INVERSE,
          " inverses");
    }
    double few = m.ns("EngineBenchmark.match OVAL_20_M");
    double many = m.ns("EngineBenchmark.match OVAL_2_CM");
    double more =
        (double) EngineBenchmark.Ground.OVAL_2_CM.vertices()
            / EngineBenchmark.Ground.OVAL_20_M.vertices();
    double exponent = Math.log(many / few) / Math.log(more);
    table.most(
        "growth of matching with the vertices of a course",
        "exponent %s: a simplified line is searched, and from there a few steps lead to the foot on the full one"
            .formatted(Table.of(exponent)),
        exponent,
        0.15,
        "");
  }
}
