package milewarden.browser;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;

/**
 * Chromium and its driver on this machine: named by CHROMIUM and CHROMEDRIVER, else on the path,
 * else, for root on a machine with apt-get, installed as Debian's packages.
 */
final class Browser {
  private static final List<String> BROWSERS = List.of("chromium", "chromium-browser");
  private static final List<String> DRIVERS = List.of("chromedriver");
  private static final long INSTALL_MINUTES = 10;

  private static Optional<Browser> found = Optional.empty();
  private static boolean looked;

  private final Path chromium;
  private final Path driver;

  private Browser(Path chromium, Path driver) {
    this.chromium = chromium;
    this.driver = driver;
  }

  /** Looks once per run of the tests. */
  static synchronized Optional<Browser> find() {
    if (!looked) {
      found = look();
      if (found.isEmpty() && install()) found = look();
      looked = true;
    }
    return found;
  }

  private static Optional<Browser> look() {
    return named("CHROMIUM", BROWSERS)
        .flatMap(b -> named("CHROMEDRIVER", DRIVERS).map(d -> new Browser(b, d)));
  }

  private static Optional<Path> named(String variable, List<String> names) {
    String given = System.getenv(variable);
    if (given != null && !given.isBlank())
      return Optional.of(Path.of(given)).filter(Files::isExecutable);
    List<String> folders = new ArrayList<>(List.of(System.getenv("PATH").split(":")));
    folders.add("/usr/lib/chromium");
    for (String folder : folders)
      for (String name : names) {
        Path file = Path.of(folder, name);
        if (Files.isExecutable(file)) return Optional.of(file);
      }
    return Optional.empty();
  }

  private static boolean install() {
    // Who names a browser that isn't there wants to hear of it, not another one.
    if (System.getenv("CHROMIUM") != null || System.getenv("CHROMEDRIVER") != null) return false;
    if (!"root".equals(System.getProperty("user.name"))
        || !Files.isExecutable(Path.of("/usr/bin/apt-get"))) return false;
    return run("apt-get", "-q", "update")
        && run(
            "apt-get", "-qy", "install", "--no-install-recommends", "chromium", "chromium-driver");
  }

  private static boolean run(String... command) {
    try {
      ProcessBuilder builder = new ProcessBuilder(command);
      builder.environment().put("DEBIAN_FRONTEND", "noninteractive");
      builder.redirectErrorStream(true);
      builder.redirectOutput(ProcessBuilder.Redirect.DISCARD);
      Process process = builder.start();
      if (process.waitFor(INSTALL_MINUTES, TimeUnit.MINUTES)) return process.exitValue() == 0;
      process.destroyForcibly();
      return false;
    } catch (IOException e) {
      return false;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return false;
    }
  }

  /** A browser that reaches no other host; quit it when done. */
  ChromeDriver open() {
    ChromeOptions options = new ChromeOptions();
    options.setBinary(chromium.toFile());
    // Root has no sandbox; the pages are our own and nothing else can be reached.
    options.addArguments(
        "--headless=new",
        "--no-sandbox",
        "--disable-dev-shm-usage",
        "--disable-background-networking",
        "--disable-component-update",
        "--no-first-run",
        "--hide-scrollbars",
        "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1");
    ChromeDriverService service =
        new ChromeDriverService.Builder()
            .usingDriverExecutable(driver.toFile())
            .usingAnyFreePort()
            .withEnvironment(java.util.Map.of("SE_OFFLINE", "true", "SE_AVOID_STATS", "true"))
            .build();
    return new ChromeDriver(service, options);
  }
}
