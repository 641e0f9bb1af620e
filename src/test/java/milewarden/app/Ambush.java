package milewarden.app;

import com.sun.jdi.Bootstrap;
import com.sun.jdi.IncompatibleThreadStateException;
import com.sun.jdi.Method;
import com.sun.jdi.ReferenceType;
import com.sun.jdi.StackFrame;
import com.sun.jdi.ThreadReference;
import com.sun.jdi.VMDisconnectedException;
import com.sun.jdi.VirtualMachine;
import com.sun.jdi.connect.Connector;
import com.sun.jdi.connect.IllegalConnectorArgumentsException;
import com.sun.jdi.connect.ListeningConnector;
import com.sun.jdi.event.BreakpointEvent;
import com.sun.jdi.event.ClassPrepareEvent;
import com.sun.jdi.event.Event;
import com.sun.jdi.event.EventSet;
import com.sun.jdi.event.StepEvent;
import com.sun.jdi.request.BreakpointRequest;
import com.sun.jdi.request.ClassPrepareRequest;
import com.sun.jdi.request.EventRequest;
import com.sun.jdi.request.StepRequest;
import java.io.IOException;
import java.util.Map;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;

/**
 * Kills a server at a boundary between two of its stages. A debugger (the JDK's own, JDI) halts all
 * its threads there, and then comes SIGKILL: the server itself knows nothing of it.
 */
final class Ambush {
  private static final String STORE = "milewarden.store.Database";

  private final Boundary where;
  private final int nth;
  private final ListeningConnector connector;
  private final Map<String, Connector.Argument> arguments;
  private final String address;
  private final CountDownLatch over = new CountDownLatch(1);
  private final AtomicReference<String> trouble = new AtomicReference<>("");
  private volatile boolean reached;

  private Ambush(Boundary where, int nth) throws IOException, IllegalConnectorArgumentsException {
    this.where = where;
    this.nth = nth;
    this.connector =
        Bootstrap.virtualMachineManager().listeningConnectors().stream()
            .filter(c -> c.transport().name().equals("dt_socket"))
            .findFirst()
            .orElseThrow();
    this.arguments = connector.defaultArguments();
    arguments.get("localAddress").setValue("127.0.0.1");
    arguments.get("port").setValue("0");
    this.address = connector.startListening(arguments);
  }

  /**
   * @param nth at which passing of the boundary; 1 is the first
   */
  static Ambush at(Boundary where, int nth) throws Exception {
    return new Ambush(where, nth);
  }

  /** With what the server is started. */
  String option() {
    return "-agentlib:jdwp=transport=dt_socket,server=n,suspend=y,address=127.0.0.1:"
        + address.replaceAll(".*:", "");
  }

  /** Lies in wait for the process that was just started. */
  void await(Process process) {
    Thread thread = new Thread(() -> lie(process), "ambush");
    thread.setDaemon(true);
    thread.start();
  }

  /**
   * Whether the boundary was reached and the server killed there.
   *
   * @param seconds how long to wait for it
   */
  boolean isSprungWithin(long seconds) throws InterruptedException {
    boolean ended = over.await(seconds, TimeUnit.SECONDS);
    if (!trouble.get().isEmpty()) throw new AssertionError(where + ": " + trouble.get());
    return ended && reached;
  }

  private void lie(Process process) {
    try {
      VirtualMachine machine = connector.accept(arguments);
      connector.stopListening(arguments);
      ClassPrepareRequest coming = machine.eventRequestManager().createClassPrepareRequest();
      coming.addClassFilter(where.type());
      coming.setSuspendPolicy(EventRequest.SUSPEND_ALL);
      coming.enable();
      machine.resume();
      while (!reached) {
        EventSet events = machine.eventQueue().remove();
        for (Event event : events) seen(machine, event);
        if (!reached) events.resume();
      }
      process.destroyForcibly().waitFor();
    } catch (VMDisconnectedException e) {
      // It ended before it came there.
    } catch (IOException
        | InterruptedException
        | RuntimeException
        | IncompatibleThreadStateException
        | IllegalConnectorArgumentsException e) {
      trouble.set(e.toString());
    } finally {
      over.countDown();
    }
  }

  private void seen(VirtualMachine machine, Event event) throws IncompatibleThreadStateException {
    if (event instanceof ClassPrepareEvent prepared) lay(machine, prepared.referenceType());
    else if (event instanceof BreakpointEvent hit) {
      machine.eventRequestManager().deleteAllBreakpoints();
      onTheWay(machine, hit.thread());
    } else if (event instanceof StepEvent step) {
      machine.eventRequestManager().deleteEventRequest(step.request());
      onTheWay(machine, step.thread());
    }
  }

  private void lay(VirtualMachine machine, ReferenceType type) {
    int laid = 0;
    for (Method method : type.methodsByName(where.method())) {
      BreakpointRequest request =
          machine.eventRequestManager().createBreakpointRequest(method.location());
      request.addCountFilter(nth);
      request.setSuspendPolicy(EventRequest.SUSPEND_ALL);
      request.enable();
      laid++;
    }
    if (laid == 0) throw new IllegalStateException("no method " + where.method());
  }

  // A transaction is committed when the last frame of the store's has returned.
  private void onTheWay(VirtualMachine machine, ThreadReference thread)
      throws IncompatibleThreadStateException {
    if (!where.committed() || !isInTransaction(thread)) {
      reached = true;
      return;
    }
    StepRequest out =
        machine
            .eventRequestManager()
            .createStepRequest(thread, StepRequest.STEP_LINE, StepRequest.STEP_OUT);
    out.setSuspendPolicy(EventRequest.SUSPEND_ALL);
    out.enable();
  }

  private static boolean isInTransaction(ThreadReference thread)
      throws IncompatibleThreadStateException {
    for (StackFrame frame : thread.frames())
      if (frame.location().declaringType().name().equals(STORE)) return true;
    return false;
  }
}
