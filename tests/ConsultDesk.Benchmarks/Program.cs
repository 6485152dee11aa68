using BenchmarkDotNet.Columns;
using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Diagnosers;
using BenchmarkDotNet.Exporters;
using BenchmarkDotNet.Jobs;
using BenchmarkDotNet.Loggers;
using BenchmarkDotNet.Running;
using BenchmarkDotNet.Toolchains.InProcess.Emit;
using ConsultDesk.Benchmarks;
using ConsultDesk.Calculations.Lanes;

LaneWidth.MeasureBeforeFirstBatch(TimeProvider.System);

if (args is ["moist-air", string states, string times])
{
    Console.Write(MoistAirSpeed.Table(states, times));
    return;
}

if (args is ["kernel"])
{
    Console.Write(KernelSpeed.Table());
    return;
}

if (args is ["lanes"])
{
    Console.WriteLine(KernelSpeed.Width());
    return;
}

if (args is ["memory", string options])
{
    Console.Write(KernelMemory.Text(int.Parse(options, System.Globalization.CultureInfo.InvariantCulture)));
    return;
}

if (args is ["growth"])
{
    Console.Write(SearchGrowth.Text());
    return;
}

if (args is ["sure", .. string[] rest])
{
    Console.Write(SureSpeed.Table(converges: rest is not ["speed"]));
    return;
}

// In this process: a project generated beside ours would have to repeat our central versions and lock files.
var config = ManualConfig.CreateEmpty()
    .AddJob(Job.ShortRun.WithToolchain(InProcessEmitToolchain.Instance))
    .AddDiagnoser(MemoryDiagnoser.Default)
    .AddColumnProvider(DefaultColumnProviders.Instance)
    .AddExporter(MarkdownExporter.GitHub)
    .AddLogger(ConsoleLogger.Default)
    .WithOptions(ConfigOptions.JoinSummary);
BenchmarkSwitcher.FromAssembly(typeof(Program).Assembly).Run(args.Length == 0 ? ["--filter", "*"] : args, config);
