package milewarden.app;

import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.locks.LockSupport;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;

/**
 * Asks a server in a process of its own for its pages at a steady rate, whether or not it has
 * answered the ones before: a page's time runs from when it was due to be asked for, so that a slow
 * answer is not hidden by questions that waited for it.
 */
public final class PageLoad {
  private static final int OF_A_KIND = 12;
  private static final int ASKED_ALONE = 20;
  private static final int NO_ANSWER = 0;
  private static final Pattern ADDRESS = Pattern.compile("http://127.0.0.1:\\d+");

  private PageLoad() {}

  /** The time of an answer, milliseconds, and the kind of page that it was. */
  private record Timed(String kind, double ms, int bytes, int status) {}

  /**
   * Times of one kind of page, milliseconds.
   *
   * @param kind an address without what only names one of many, or "all"
   * @param cpu of the server's processor for one, asked alone: what does not depend on how busy the
   *     machine is with other things
   */
  public record Line(
      String kind,
      int n,
      double median,
      double p95,
      double p99,
      double slowest,
      double cpu,
      int kB) {}

  /**
   * What was measured.
   *
   * @param failed answers other than 200, by their status; 0 where none came within a minute
   * @param peakMb the most memory that the process ever had, by the operating system; -1 unknown
   * @param firstMs the first overview after the start
   * @param arrived recordings that came in meanwhile, each measured and judged
   * @param judgedS from the last of them to the end of its judging
   */
  public record Report(
      int runs,
      List<Line> lines,
      Map<Integer, Long> failed,
      long peakMb,
      double firstMs,
      int arrived,
      double judgedS) {}

  /**
   * @param folder where the store is kept from call to call
   * @param options of the server's Java
   */
  public static Report run(
      Path folder, int models, int runs, int perSecond, int seconds, String... options)
      throws Exception {
    return run(folder, models, runs, perSecond, seconds, 0, options);
  }

  /**
   * As {@link #run(Path, int, int, int, int, String...)}, while recordings come in; they stay in
   * the store.
   *
   * @param arriving of them a minute
   */
  public static Report run(
      Path folder,
      int models,
      int runs,
      int perSecond,
      int seconds,
      int arriving,
      String... options)
      throws Exception {
    Household house = LabStore.fill(folder, models, runs);
    int stored = LabStore.runs(house);
    List<String> all = new ArrayList<>(List.of("-XX:TieredStopAtLevel=4"));
    all.addAll(List.of(options));
    Child child = Child.start(house, all.toArray(String[]::new));
    try {
      if (!child.serves()) throw new AssertionError(child.said());
      Matcher address = ADDRESS.matcher(child.said());
      if (!address.find()) throw new AssertionError(child.said());
      String home = address.group();
      double first = first(home);
      // To find them all is to have asked for each once: as good as warm.
      Map<String, List<String>> kinds = new TreeMap<>();
      for (String page : new Crawl(home, "none=none", OF_A_KIND).pages().keySet())
        kinds.computeIfAbsent(Crawl.kind(page), k -> new ArrayList<>()).add(page);
      if (kinds.isEmpty()) throw new AssertionError("no page: " + new Crawl(home).ask("/").body());
      Map<String, Double> cpu = cost(home, kinds, child.pid());
      Arrivals.Came came = new Arrivals.Came(0, 0, 0);
      List<Timed> times;
      if (arriving == 0) times = load(home, kinds, perSecond, seconds);
      else
        try (Arrivals arrivals = new Arrivals(house, models, arriving)) {
          arrivals.start();
          times = load(home, kinds, perSecond, seconds);
          came = arrivals.end();
        }
      Map<Integer, Long> failed =
          times.stream()
              .map(Timed::status)
              .filter(s -> s != 200)
              .collect(Collectors.groupingBy(s -> s, TreeMap::new, Collectors.counting()));
      return new Report(
          stored,
          lines(times, cpu),
          failed,
          peakMb(child.pid()),
          first,
          came.measured(),
          came.lastS());
    } finally {
      child.stopS();
    }
  }

  private static double first(String home) {
    long from = System.nanoTime();
    int status = new Crawl(home).ask("/").statusCode();
    if (status != 200) throw new AssertionError("the overview answers " + status);
    return (System.nanoTime() - from) / 1e6;
  }

  /** Milliseconds of processor by kind, one request after another. */
  private static Map<String, Double> cost(String home, Map<String, List<String>> kinds, long pid) {
    Map<String, Double> cost = new TreeMap<>();
    Crawl crawl = new Crawl(home);
    // Once for the compiler, once to be counted; the clock of the processor ticks every 10 ms.
    for (int round = 0; round < 2; round++)
      kinds.forEach(
          (kind, pages) -> {
            long before = cpuNanos(pid);
            for (int i = 0; i < ASKED_ALONE; i++) crawl.ask(pages.get(i % pages.size()));
            cost.put(kind, (cpuNanos(pid) - before) / 1e6 / ASKED_ALONE);
          });
    cost.put("all", cost.values().stream().mapToDouble(c -> c).average().orElse(0));
    return cost;
  }

  private static long cpuNanos(long pid) {
    return ProcessHandle.of(pid)
        .flatMap(p -> p.info().totalCpuDuration())
        .orElse(Duration.ZERO)
        .toNanos();
  }

  private static List<Timed> load(
      String home, Map<String, List<String>> kinds, int perSecond, int seconds) {
    HttpClient client = HttpClient.newHttpClient();
    List<String> names = List.copyOf(kinds.keySet());
    Random random = new Random(1);
    ConcurrentLinkedQueue<Timed> times = new ConcurrentLinkedQueue<>();
    List<CompletableFuture<?>> open = new ArrayList<>();
    long start = System.nanoTime();
    for (int i = 0; i < perSecond * seconds; i++) {
      String kind = names.get(random.nextInt(names.size()));
      List<String> pages = kinds.get(kind);
      String page = pages.get(random.nextInt(pages.size()));
      long due = start + i * 1_000_000_000L / perSecond;
      while (System.nanoTime() < due) LockSupport.parkNanos(due - System.nanoTime());
      HttpRequest request =
          HttpRequest.newBuilder(URI.create(home + page))
              .timeout(Duration.ofSeconds(60))
              .header("Accept", "text/html")
              .build();
      open.add(
          client
              .sendAsync(request, BodyHandlers.ofByteArray())
              .handle((answer, none) -> times.add(timed(kind, due, answer))));
    }
    open.forEach(CompletableFuture::join);
    return List.copyOf(times);
  }

  private static Timed timed(String kind, long due, @Nullable HttpResponse<byte[]> answer) {
    double ms = (System.nanoTime() - due) / 1e6;
    if (answer == null) return new Timed(kind, ms, 0, NO_ANSWER);
    return new Timed(kind, ms, answer.body().length, answer.statusCode());
  }

  private static List<Line> lines(List<Timed> times, Map<String, Double> cpu) {
    Map<String, List<Timed>> byKind = new TreeMap<>();
    for (Timed t : times) byKind.computeIfAbsent(t.kind(), k -> new ArrayList<>()).add(t);
    List<Line> lines = new ArrayList<>();
    cpu.forEach(
        (kind, cost) -> {
          if (byKind.containsKey(kind)) lines.add(line(kind, byKind.get(kind), cost));
        });
    lines.add(line("all", times, cpu.get("all")));
    return lines;
  }

  private static Line line(String kind, List<Timed> its, double cpu) {
    double[] ms = its.stream().mapToDouble(Timed::ms).sorted().toArray();
    int kB = its.stream().mapToInt(Timed::bytes).max().orElse(0) / 1024;
    return new Line(kind, ms.length, at(ms, 0.5), at(ms, 0.95), at(ms, 0.99), at(ms, 1), cpu, kB);
  }

  // The nearest rank: the smallest time that this part of all does not exceed.
  private static double at(double[] sorted, double part) {
    return sorted[(int) Math.ceil(part * sorted.length) - 1];
  }

  // VmHWM of proc(5).
  private static long peakMb(long pid) throws Exception {
    Path status = Path.of("/proc/" + pid + "/status");
    if (Files.notExists(status)) return -1;
    for (String line : Files.readAllLines(status))
      if (line.startsWith("VmHWM:")) return Long.parseLong(line.replaceAll("\\D", "")) / 1024;
    return -1;
  }
}
