package milewarden.matching;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import milewarden.course.ReferenceCourse;
import milewarden.simulator.InventedCourse;

/** As many courses as a large test group would have: loops and paths of 1 to 3 km. */
public final class ManyCourses {
  private ManyCourses() {}

  /** Courses with their middles in a square, all of them different. */
  public static List<ReferenceCourse> spread(int count, double sideM, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    List<ReferenceCourse> all = new ArrayList<>();
    for (int i = 0; i < count; i++)
      all.add(
          at(
              random.nextDouble(-sideM / 2, sideM / 2),
              random.nextDouble(-sideM / 2, sideM / 2),
              i));
    return all;
  }

  /** A loop (even number) or a path (odd) with corners of its own. */
  public static ReferenceCourse at(double eastM, double northM, int number) {
    SplittableRandom random = new SplittableRandom(number);
    int corners = 5 + random.nextInt(6);
    boolean closed = number % 2 == 0;
    double radius = random.nextDouble(180, 450);
    List<double[]> plan = new ArrayList<>();
    for (int i = 0; i < corners; i++) {
      double angle = 2 * Math.PI * i / corners + random.nextDouble(0.4);
      double r = closed ? radius * random.nextDouble(0.6, 1.4) : 2.5 * radius * i / corners;
      double x = closed ? r * Math.sin(angle) : r;
      double y = closed ? r * Math.cos(angle) : radius * random.nextDouble(-0.4, 0.4);
      plan.add(new double[] {eastM + x, northM + y});
    }
    if (closed) plan.add(plan.get(0));
    return InventedCourse.of(
        "c" + number, "c" + number, closed, InventedCourse.laidOut(Shapes.HERE, plan));
  }
}
