package milewarden.app;

import java.util.ArrayDeque;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Queue;
import java.util.concurrent.CompletableFuture;
import milewarden.format.GpxWriter;
import milewarden.simulator.campaign.Campaign;
import milewarden.simulator.campaign.Outing;

/** The files of the campaign's outings in order, each made while the one before is taken in. */
final class DemoFiles {
  private final Queue<Outing> waiting = new ArrayDeque<>();
  private CompletableFuture<Map<String, String>> ahead;

  DemoFiles(List<Campaign.Event> events) {
    for (Campaign.Event event : events)
      event.<Boolean>fold(run -> waiting.add(run.outing()), published -> false, other -> false);
    ahead = begin();
  }

  /** Text by file name of the next outing: its recordings and its field sheet. */
  Map<String, String> next() {
    Map<String, String> files = ahead.join();
    ahead = begin();
    return files;
  }

  private CompletableFuture<Map<String, String>> begin() {
    Outing outing = waiting.poll();
    if (outing == null) return CompletableFuture.completedFuture(Map.of());
    return CompletableFuture.supplyAsync(() -> files(outing));
  }

  private static Map<String, String> files(Outing outing) {
    Map<String, String> files = new LinkedHashMap<>();
    List<Outing.Recording> recordings = outing.record();
    for (Outing.Recording r : recordings) files.put(r.file(), GpxWriter.write(r.made().track()));
    files.put("session.csv", outing.sheet(recordings));
    return files;
  }
}
