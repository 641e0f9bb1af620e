package milewarden.app;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicLong;

/** A connection to a server on this machine that can be cut and mended. */
final class Wire implements AutoCloseable {
  private final ServerSocket door;
  private final int to;
  private final List<Socket> ends = new CopyOnWriteArrayList<>();
  private final AtomicLong bytes = new AtomicLong();
  private final AtomicLong turns = new AtomicLong();
  private volatile boolean cut;

  /** A wire to a port of this machine. */
  Wire(int to) throws IOException {
    this.to = to;
    this.door = new ServerSocket(0, 50, InetAddress.getLoopbackAddress());
    daemon(this::accept);
  }

  int port() {
    return door.getLocalPort();
  }

  /** What ran over it so far, both ways. */
  long bytes() {
    return bytes.get();
  }

  /** How often the other side was asked something, after its answer to what was asked before. */
  long turns() {
    return turns.get();
  }

  /** What runs over it breaks off; who comes now is sent away. */
  void cut() {
    cut = true;
    for (Socket end : ends) shut(end);
    ends.clear();
  }

  void mend() {
    cut = false;
  }

  private void accept() {
    while (!door.isClosed()) {
      try {
        Socket near = door.accept();
        if (cut) {
          shut(near);
          continue;
        }
        Socket far = new Socket(InetAddress.getLoopbackAddress(), to);
        ends.add(near);
        ends.add(far);
        AtomicBoolean asked = new AtomicBoolean();
        daemon(() -> pump(near, far, asked, true));
        daemon(() -> pump(far, near, asked, false));
      } catch (IOException e) {
        if (door.isClosed()) return;
      }
    }
  }

  private void pump(Socket from, Socket into, AtomicBoolean asked, boolean asks) {
    byte[] buffer = new byte[65_536];
    try {
      while (true) {
        int n = from.getInputStream().read(buffer);
        if (n < 0) break;
        bytes.addAndGet(n);
        if (asked.getAndSet(asks) != asks && asks) turns.incrementAndGet();
        into.getOutputStream().write(buffer, 0, n);
      }
    } catch (IOException e) {
      // Cut, or one of them has gone: both ends are.
    }
    shut(from);
    shut(into);
  }

  private static void shut(Socket socket) {
    try {
      socket.close();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static void daemon(Runnable work) {
    Thread thread = new Thread(work, "wire");
    thread.setDaemon(true);
    thread.start();
  }

  @Override
  public void close() throws IOException {
    door.close();
    cut();
  }
}
