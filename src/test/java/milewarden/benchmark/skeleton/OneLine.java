package milewarden.benchmark.skeleton;

/** What no program in Java can be faster than. */
public final class OneLine {
  private OneLine() {}

  public static void main(String[] args) {
    System.out.println("one line");
  }
}
