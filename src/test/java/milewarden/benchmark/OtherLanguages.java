package milewarden.benchmark;

import java.nio.file.Files;
import java.nio.file.Path;
import java.security.NoSuchAlgorithmException;
import java.util.Arrays;
import milewarden.geodesy.Position;

/**
 * Writes the work of the whole pipeline as files into a folder, so that pipelines in other
 * languages can be run on the same ({@code nearest.cpp} and {@code nearest.py} of the test
 * resources), and prints what ours takes, in processor time of the process as they do: for the same
 * job ({@link SameJob}), and for all that the program does with a file.
 */
public final class OtherLanguages {
  private static final int WARM = 400;
  private static final int ROUNDS = 9;
  private static final int CALLS = 40;

  private OtherLanguages() {}

  public static void main(String[] args) throws Exception {
    Path folder = Files.createDirectories(Path.of(args[0]));
    for (Hour hour : Hour.values()) {
      Files.write(folder.resolve(hour + ".gpx"), hour.gpx);
      StringBuilder line = new StringBuilder();
      for (Position p : hour.course.line().positions())
        line.append(p.latitudeDeg()).append(' ').append(p.longitudeDeg()).append('\n');
      Files.writeString(folder.resolve(hour + ".txt"), line);
    }
    for (Hour hour : Hour.values())
      for (boolean all : new boolean[] {false, true}) run(hour, all, WARM);
    for (Hour hour : Hour.values())
      System.out.printf(
          "%s, ns a fix: the same job %.0f, all of it %.0f%n",
          hour, middle(hour, false), middle(hour, true));
  }

  private static double middle(Hour hour, boolean all) throws NoSuchAlgorithmException {
    double[] perFix = new double[ROUNDS];
    for (int round = 0; round < ROUNDS; round++)
      perFix[round] = run(hour, all, CALLS) / CALLS / hour.track.size();
    Arrays.sort(perFix);
    return perFix[ROUNDS / 2];
  }

  private static double run(Hour hour, boolean all, int calls) throws NoSuchAlgorithmException {
    PipelineBenchmark pipeline = new PipelineBenchmark();
    pipeline.hour = hour;
    double sum = 0;
    CpuTime.Start before = CpuTime.start();
    for (int i = 0; i < calls; i++) sum += all ? pipeline.ours() : pipeline.oursSameJob();
    if (Double.isNaN(sum)) throw new IllegalStateException("no length");
    return before.ns();
  }
}
