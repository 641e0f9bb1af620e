package milewarden.course.draft;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Several recorded paths over one course, brought to one direction and one start, and averaged.
 *
 * @param count traversals in all of them
 * @param line their mean
 * @param recordedM mean length of a traversal as recorded
 * @param apartM root mean square distance of the walks from their mean; 0 where there is one
 */
record Walks(int count, DraftLine line, double recordedM, double apartM) {
  /** Places of a loop that are tried as its start, against those of the first walk. */
  private static final int SHIFTS = 400;

  /**
   * The mean of all walks.
   *
   * @param paths thinned, at least one
   * @param lengthM of one traversal as measured
   */
  static Walks of(List<DraftLine> paths, double lengthM, Optional<Boolean> loop) {
    List<DraftLine> lines = new ArrayList<>();
    Traversals first = Traversals.of(paths.get(0), lengthM, loop);
    int count = 0;
    double recorded = 0;
    for (DraftLine path : paths) {
      Traversals found = Traversals.of(path, lengthM, Optional.of(first.line().closed()));
      DraftLine aligned = lines.isEmpty() ? found.line() : aligned(found.line(), lines.get(0));
      for (int i = 0; i < found.count(); i++) lines.add(aligned);
      count += found.count();
      recorded += found.count() * found.recordedM();
    }
    DraftLine mean = DraftLine.mean(lines);
    double squares = 0;
    for (DraftLine line : lines) squares += squares(line, mean, 0) / mean.size();
    return new Walks(count, mean, recorded / count, Math.sqrt(squares / lines.size()));
  }

  /** A line in the direction of another, and of a loop from its start: whichever lies nearest. */
  private static DraftLine aligned(DraftLine line, DraftLine to) {
    DraftLine best = line;
    double least = Double.POSITIVE_INFINITY;
    for (DraftLine each : List.of(line, line.reversed())) {
      int steps = line.closed() ? Math.min(SHIFTS, line.size()) : 1;
      for (int i = 0; i < steps; i++) {
        int shift = (int) ((long) i * line.size() / steps);
        double squares = squares(each, to, shift);
        if (squares >= least) continue;
        least = squares;
        best = shift == 0 ? each : each.shifted(shift);
      }
    }
    return best;
  }

  private static double squares(DraftLine line, DraftLine to, int shift) {
    double sum = 0;
    int n = line.size();
    for (int i = 0; i < n; i++) {
      int j = (i + shift) % n;
      double dx = line.x()[j] - to.x()[i];
      double dy = line.y()[j] - to.y()[i];
      sum += dx * dx + dy * dy;
    }
    return sum;
  }
}
