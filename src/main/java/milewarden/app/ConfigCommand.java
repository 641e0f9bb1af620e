package milewarden.app;

import java.io.IOException;
import java.io.PrintWriter;
import java.net.BindException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.SocketException;
import java.net.UnknownHostException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import milewarden.app.config.Config;
import milewarden.cli.CommandGroup;
import milewarden.cli.Exit;
import milewarden.cli.Places;
import milewarden.store.StoreLook;
import milewarden.web.WebSettings;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;

/** {@code config check}: what a start would find, without starting. */
@Command(
    name = "config",
    mixinStandardHelpOptions = true,
    synopsisSubcommandLabel = "COMMAND",
    description = "Looks after the configuration.")
final class ConfigCommand extends CommandGroup {
  @Command(
      name = "check",
      mixinStandardHelpOptions = true,
      description = {
        "Reads configuration and rules as a start would, and looks at folders, address, port,",
        "store, people and secrets. Changes nothing, says no secret. Exit code 1 where something is",
        "to be mended, 2 where the configuration can't be read."
      })
  int check(@Mixin Places places) {
    PrintWriter out = spec.commandLine().getOut();
    Optional<Config> config = ServeCommand.config(places, spec.commandLine().getErr());
    if (config.isEmpty()) return Exit.WRONG_USE;
    out.println("fine  configuration and rules");
    List<String> findings = new ArrayList<>();
    folder("data folder", config.get().data(), findings, out);
    folder("courses", config.get().courses(), findings, out);
    config.get().backups().ifPresent(b -> folder("daily copies", b.folder(), findings, out));
    address(config.get(), findings, out);
    people(config.get(), findings, out);
    mail(config.get(), out);
    findings.forEach(f -> out.println("MEND  " + f));
    return findings.isEmpty() ? Exit.DONE : Exit.FINDINGS;
  }

  /** There and writable, or makable. */
  private static void folder(String name, Path path, List<String> findings, PrintWriter out) {
    Path there = path.toAbsolutePath().normalize();
    while (!Files.exists(there) && there.getParent() != null) there = there.getParent();
    boolean fine = Files.isDirectory(there) && Files.isWritable(there);
    if (fine)
      out.println("fine  " + name + ": " + path + (Files.exists(path) ? "" : ", to be made"));
    else
      findings.add(
          name
              + ": "
              + there
              + (Files.isDirectory(there) ? " can't be written" : " is no folder")
              + "; name another or give the server's user the right to");
  }

  private static void address(Config config, List<String> findings, PrintWriter out) {
    String at = config.address() + ", port " + config.port();
    try (ServerSocket socket =
        new ServerSocket(config.port(), 1, InetAddress.getByName(config.address()))) {
      out.println("fine  address " + at + (socket.isBound() ? " is free" : ""));
    } catch (BindException e) {
      findings.add(
          "address "
              + at
              + " can't be taken: another program has it (a running server of yours?),"
              + " or it is no address of this machine");
    } catch (UnknownHostException | SocketException e) {
      findings.add("address " + at + " is none of this machine's");
    } catch (IOException e) {
      findings.add("address " + at + " can't be tried: " + e.getMessage());
    }
    boolean open = !WebSettings.isLoopback(config.address());
    boolean tls = config.publicUrl().filter(u -> "https".equals(u.getScheme())).isPresent();
    if (open && !tls)
      findings.add(
          "address "
              + config.address()
              + " is reached by plain HTTP, passphrases with it; put something that ends TLS before"
              + " it and set public.url to https://...");
  }

  private static void people(Config config, List<String> findings, PrintWriter out) {
    OptionalInt keepers = StoreLook.keepers(config.store());
    if (keepers.isEmpty()) {
      findings.add("store: it can't be read; is the address right, is the file whole?");
      return;
    }
    out.println(
        "fine  store: "
            + config.store().where()
            + (config.store().isThere() ? "" : ", to be made"));
    int n = keepers.getAsInt();
    if (n == 0 && !WebSettings.isLoopback(config.address()))
      findings.add(
          "people: no keeper has a passphrase, and other machines can reach "
              + config.address()
              + "; run milewarden people add NAME --role keeper");
    else out.println("fine  people: " + (n == 0 ? "nobody; this machine may all" : n + " keepers"));
  }

  // That every secret is there was found when the configuration was read.
  private static void mail(Config config, PrintWriter out) {
    out.println(
        config.mail().server().isEmpty()
            ? "fine  mail: kept as files, no server is named"
            : "fine  mail: by " + config.mail().server().get().host());
  }
}
