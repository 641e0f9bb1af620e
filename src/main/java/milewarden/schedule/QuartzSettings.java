package milewarden.schedule;

import java.util.Properties;

/** How Quartz is set up: alone in the memory, or in the tables that stations share. */
final class QuartzSettings {
  private QuartzSettings() {}

  /**
   * @param connections the name by which Quartz knows those to the database
   * @param station a name that no other has
   */
  static Properties together(String connections, String station) {
    Properties p = common();
    p.setProperty("org.quartz.scheduler.instanceName", "milewarden");
    p.setProperty("org.quartz.scheduler.instanceId", station);
    // It wakes no work; a second's delay of a sweep is none.
    p.setProperty("org.quartz.scheduler.idleWaitTime", "1000");
    // Out of reach, the database is asked again this often.
    p.setProperty("org.quartz.scheduler.dbFailureRetryInterval", "2000");
    p.setProperty("org.quartz.threadPool.threadCount", "2");
    p.setProperty("org.quartz.jobStore.class", "org.quartz.impl.jdbcjobstore.JobStoreTX");
    p.setProperty(
        "org.quartz.jobStore.driverDelegateClass",
        "org.quartz.impl.jdbcjobstore.PostgreSQLDelegate");
    p.setProperty("org.quartz.jobStore.useProperties", "true");
    p.setProperty("org.quartz.jobStore.tablePrefix", "qrtz_");
    p.setProperty("org.quartz.jobStore.dataSource", connections);
    p.setProperty("org.quartz.jobStore.isClustered", "true");
    p.setProperty("org.quartz.jobStore.clusterCheckinInterval", "5000");
    return p;
  }

  private static Properties common() {
    Properties p = new Properties();
    p.setProperty("org.quartz.scheduler.skipUpdateCheck", "true");
    p.setProperty("org.quartz.scheduler.makeSchedulerThreadDaemon", "true");
    p.setProperty("org.quartz.threadPool.class", "org.quartz.simpl.SimpleThreadPool");
    p.setProperty("org.quartz.threadPool.makeThreadsDaemons", "true");
    return p;
  }

  /**
   * @param name that no other has in this process
   */
  static Properties alone(String name) {
    Properties p = common();
    p.setProperty("org.quartz.scheduler.instanceName", name);
    // Each work takes one thread at most; those that wait for servers are mail and webhook.
    p.setProperty("org.quartz.threadPool.threadCount", "8");
    p.setProperty("org.quartz.jobStore.class", "org.quartz.simpl.RAMJobStore");
    return p;
  }
}
