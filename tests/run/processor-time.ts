/** Milliseconds that this process has worked: unlike the clock's, they hold on a machine that others keep busy. */
export function processorTime(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}
