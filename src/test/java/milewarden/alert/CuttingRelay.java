package milewarden.alert;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * A relay before a mail server that swallows the server's answer to the end of a message: the
 * server has it, and the sender never hears so. Then it cuts the line, or leaves it open in
 * silence.
 */
final class CuttingRelay implements AutoCloseable {
  private static final String END_OF_DATA = "\r\n.\r\n";

  private final ServerSocket listening;
  private final int port;
  private final boolean cut;
  private final AtomicInteger cuts;

  /**
   * @param times so many messages' answers are swallowed, those after them pass
   */
  CuttingRelay(int port, int times, boolean cut) throws IOException {
    this.port = port;
    this.cut = cut;
    this.cuts = new AtomicInteger(times);
    this.listening = new ServerSocket(0, 10, InetAddress.getLoopbackAddress());
    thread(this::accept);
  }

  int port() {
    return listening.getLocalPort();
  }

  private static void thread(Runnable work) {
    Thread t = new Thread(work);
    t.setDaemon(true);
    t.start();
  }

  private void accept() {
    while (!listening.isClosed()) {
      try {
        Socket client = listening.accept();
        Socket server = new Socket(InetAddress.getLoopbackAddress(), port);
        Line line = new Line(client, server);
        thread(line::forth);
        thread(line::back);
      } catch (IOException e) {
        if (!listening.isClosed()) throw new UncheckedIOException(e);
      }
    }
  }

  private final class Line {
    private final Socket client;
    private final Socket server;
    private volatile boolean ended;

    Line(Socket client, Socket server) {
      this.client = client;
      this.server = server;
    }

    void forth() {
      StringBuilder last = new StringBuilder();
      try (InputStream in = client.getInputStream();
          OutputStream out = server.getOutputStream()) {
        byte[] some = new byte[4096];
        for (int n = in.read(some); n >= 0; n = in.read(some)) {
          last.append(new String(some, 0, n, StandardCharsets.ISO_8859_1));
          last.delete(0, Math.max(0, last.length() - 2 * END_OF_DATA.length()));
          if (last.indexOf(END_OF_DATA) >= 0 && cuts.getAndDecrement() > 0) ended = true;
          out.write(some, 0, n);
          out.flush();
        }
      } catch (IOException e) {
        // The other side went.
      }
    }

    void back() {
      try (InputStream in = server.getInputStream();
          OutputStream out = client.getOutputStream()) {
        byte[] some = new byte[4096];
        for (int n = in.read(some); n >= 0; n = in.read(some)) {
          if (ended && cut) return;
          if (ended) continue;
          out.write(some, 0, n);
          out.flush();
        }
      } catch (IOException e) {
        // The other side went.
      }
    }
  }

  @Override
  public void close() throws IOException {
    listening.close();
  }
}
