package milewarden.intake.drop;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.concurrent.ForkJoinPool;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

final class OneByOneTest {
  @Test
  void answersComeInTheOrderOfTheThings() {
    List<Integer> things = IntStream.range(0, 1000).boxed().toList();
    assertThat(OneByOne.map(things, n -> n * n))
        .isEqualTo(things.stream().map(n -> n * n).toList());
    assertThat(OneByOne.map(List.<Integer>of(), n -> n)).isEmpty();
  }

  @Test
  void workIsDoneByThePoolOfTheCaller() throws Exception {
    ForkJoinPool pool = new ForkJoinPool(3);
    try {
      List<Integer> things = IntStream.range(0, 100).boxed().toList();
      List<ForkJoinPool> pools = pool.submit(() -> OneByOne.map(things, n -> here())).get();
      assertThat(pools).containsOnly(pool);
    } finally {
      pool.shutdown();
    }
  }

  private static ForkJoinPool here() {
    return java.util.concurrent.ForkJoinTask.getPool();
  }

  @Test
  void whatWentWrongComesOut() {
    assertThatThrownBy(
            () ->
                OneByOne.map(
                    List.of(1, 0, 2),
                    n -> {
                      if (n == 0) throw new IllegalStateException("none");
                      return n;
                    }))
        .isInstanceOf(IllegalStateException.class)
        .hasMessageContaining("none");
  }
}
