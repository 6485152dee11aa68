using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Benchmarks;

/// <summary>What is measured on.</summary>
internal static class Samples
{
    /// <summary>The van a new client starts with: the first body class, a platform bed, the default household and stop.</summary>
    public static Design Van { get; } = Presets.Build(BodyClasses.All[0].Key, Layout.RearPlatformBed);
}
