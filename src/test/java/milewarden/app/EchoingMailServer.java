package milewarden.app;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.Base64;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;

/**
 * A mail server of bad manners: it refuses every log-in (RFC 4954: 535) and repeats in its refusal
 * what it was sent, in Base64 and decoded.
 */
final class EchoingMailServer implements AutoCloseable {
  private final ServerSocket listening;
  private final String mechanism;
  private final List<String> refusals = new CopyOnWriteArrayList<>();

  /**
   * @param mechanism PLAIN or LOGIN
   */
  EchoingMailServer(String mechanism) throws IOException {
    this.mechanism = mechanism;
    this.listening = new ServerSocket(0, 10, InetAddress.getLoopbackAddress());
    Thread accepting = new Thread(this::accept);
    accepting.setDaemon(true);
    accepting.start();
  }

  int port() {
    return listening.getLocalPort();
  }

  /** What it said to those whose log-in it refused. */
  List<String> refusals() {
    return List.copyOf(refusals);
  }

  private void accept() {
    while (!listening.isClosed()) {
      try (Socket client = listening.accept()) {
        talk(client);
      } catch (IOException e) {
        if (!listening.isClosed()) throw new UncheckedIOException(e);
      }
    }
  }

  private void talk(Socket client) throws IOException {
    BufferedReader in =
        new BufferedReader(
            new InputStreamReader(client.getInputStream(), StandardCharsets.US_ASCII));
    OutputStream out = client.getOutputStream();
    say(out, "220 mail.tests.example");
    for (String line = in.readLine(); line != null; line = in.readLine()) {
      if (line.startsWith("EHLO")) say(out, "250-mail.tests.example\r\n250 AUTH " + mechanism);
      else if (line.startsWith("AUTH PLAIN ")) refuse(out, line.substring(11));
      else if (line.startsWith("AUTH LOGIN")) {
        if (line.length() < 11) {
          say(out, "334 VXNlcm5hbWU6");
          in.readLine();
        }
        say(out, "334 UGFzc3dvcmQ6");
        refuse(out, in.readLine());
      } else if (line.startsWith("QUIT")) {
        say(out, "221 bye");
        return;
      } else say(out, "530 5.7.0 log in first");
    }
  }

  private void refuse(OutputStream out, String sent) throws IOException {
    String plain = new String(Base64.getDecoder().decode(sent), StandardCharsets.UTF_8);
    String words = "535 5.7.8 no such log-in: " + sent + " (" + plain + ")";
    refusals.add(words);
    say(out, words);
  }

  private static void say(OutputStream out, String line) throws IOException {
    out.write((line + "\r\n").getBytes(StandardCharsets.UTF_8));
    out.flush();
  }

  @Override
  public void close() throws IOException {
    listening.close();
  }
}
