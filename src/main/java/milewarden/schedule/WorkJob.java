package milewarden.schedule;

import org.quartz.DisallowConcurrentExecution;
import org.quartz.Job;
import org.quartz.JobExecutionContext;

/** Quartz's view of a work. */
@DisallowConcurrentExecution
final class WorkJob implements Job {
  private final Work work;

  WorkJob(Work work) {
    this.work = work;
  }

  @Override
  public void execute(JobExecutionContext context) {
    work.run();
  }
}
