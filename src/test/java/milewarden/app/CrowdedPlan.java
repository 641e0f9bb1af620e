package milewarden.app;

import java.util.List;
import java.util.Map;
import org.openqa.selenium.chrome.ChromeDriver;

/** A plan of twenty tracks of an hour each, in place of the one that a page came with. */
final class CrowdedPlan {
  static final int TRACKS = 20;
  static final int FIXES = 3600;

  /**
   * Four laps of a loop of 2.5 km at 1 Hz, each track with a noise of its own that drifts (a sum of
   * sines up to 3 m); the feet are the places on the loop.
   */
  private static final String FILL =
      """
      const radius = 2500 / 2 / Math.PI;
      const at = (a, r) => [r * Math.sin(a), r * Math.cos(a)].map((m) => Math.round(100 * m) / 100);
      const line = d3.range(601).map((i) => at((2 * Math.PI * i) / 600, radius));
      const tracks = d3.range(arguments[0]).map((t) => {
        const angle = (i) => (8 * Math.PI * i) / arguments[1];
        const off = (i) => 2 * Math.sin(i / 7 + t) + Math.sin(i / 2.3 + 5 * t) + t / 10;
        const fixes = d3.range(arguments[1]);
        return {
          name: `unit ${t + 1}`,
          points: fixes.map((i) => at(angle(i), radius + off(i))),
          feet: fixes.map((i) => at(angle(i), radius)),
        };
      });
      const plan = {name: 'crowded', line, marks: [{at: line[0], name: 'start', words: 'start, 0 m'}], tracks};
      window.crowded = plan;
      document.dispatchEvent(new CustomEvent('chartdata', {detail: {plan}}));""";

  /**
   * Drags for two seconds, comes closer by eight, drags again, goes back; a step in every frame.
   * What is counted is how long the frames are.
   */
  private static final String MOVE =
      """
      const done = arguments[arguments.length - 1];
      const svg = document.querySelector('[data-chart=plan] svg');
      const box = svg.getBoundingClientRect();
      const x = box.left + box.width / 2, y = box.top + 40;
      const mouse = (type, dx, dy, on) => on.dispatchEvent(new MouseEvent(type,
        {view: window, bubbles: true, cancelable: true, clientX: x + dx, clientY: y + dy, button: 0, buttons: 1}));
      const wheel = (by) => svg.dispatchEvent(new WheelEvent('wheel',
        {view: window, bubbles: true, cancelable: true, clientX: x, clientY: y, ctrlKey: true, deltaY: by}));
      const drag = {
        before: () => mouse('mousedown', 0, 0, svg),
        step: (i) => mouse('mousemove', 60 * Math.sin(i / 9), 30 * Math.sin(i / 5), window),
        after: () => mouse('mouseup', 0, 0, window)};
      const none = () => {};
      const parts = [
        ['nothing', {before: none, step: none, after: none}],
        ['drag, whole course', drag],
        ['closer', {before: none, step: () => wheel(-2.5), after: none}],
        ['drag, close', drag],
        ['further', {before: none, step: () => wheel(2.5), after: none}]];
      const [, part] = parts.find(([name]) => name === arguments[0]);
      const times = [];
      let last = 0;
      part.before();
      const frame = (now) => {
        if (last) times.push(now - last);
        last = now;
        if (times.length === 120) {
          part.after();
          setTimeout(() => done(times), 400);
          return;
        }
        part.step(times.length);
        requestAnimationFrame(frame);
      };
      requestAnimationFrame(frame);""";

  private CrowdedPlan() {}

  /** Fills the plan of the page that is open. */
  static void fill(ChromeDriver window) {
    window.executeScript(FILL, TRACKS, FIXES);
  }

  /** What can be done, in the order in which it makes sense. */
  static final List<String> MOVES =
      List.of("nothing", "drag, whole course", "closer", "drag, close", "further");

  /** Times of the frames, milliseconds. */
  @SuppressWarnings("unchecked")
  static List<Number> move(ChromeDriver window, String what) {
    return (List<Number>) window.executeAsyncScript(MOVE, what);
  }

  /** Turns the wheel over the northernmost place of the loop until it is so many times larger. */
  static void comeCloser(ChromeDriver window, int times) {
    // d3-zoom: 2 to the power of a fiftieth of each step, with the control key.
    window.executeScript(
        "const svg = document.querySelector('[data-chart=plan] svg');"
            + "svg.scrollIntoView({block: 'center'});"
            + "const b = svg.getBoundingClientRect();"
            + "for (let i = 0; i < 50 * Math.log2(arguments[0]); i++)"
            + "svg.dispatchEvent(new WheelEvent('wheel', {view: window, bubbles: true, cancelable:"
            + " true, clientX: b.left + b.width / 2, clientY: b.top + 46, ctrlKey: true, deltaY:"
            + " -1}));",
        times);
  }

  /** Seconds of processor that the page's own thread has taken so far. */
  @SuppressWarnings("unchecked")
  static double worked(ChromeDriver window) {
    window.executeCdpCommand("Performance.enable", Map.of("timeDomain", "threadTicks"));
    Map<String, Object> all = window.executeCdpCommand("Performance.getMetrics", Map.of());
    return ((List<Map<String, Object>>) all.get("metrics"))
        .stream()
            .filter(m -> "TaskDuration".equals(m.get("name")))
            .mapToDouble(m -> ((Number) m.get("value")).doubleValue())
            .findFirst()
            .orElseThrow();
  }
}
