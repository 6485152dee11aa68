using System.Collections.Immutable;
using ConsultDesk.Calculations.Findings.Rules;

namespace ConsultDesk.Calculations.Findings;

/// <summary>All rules in one place, in the order their findings are shown within one severity.</summary>
internal static class FindingRules
{
    private static readonly ImmutableArray<Func<FindingContext, Finding?>> DangerRules =
    [
        UnfluedFlameAsleep.Judge,
        CookerForWarmth.Judge,
        SuctionOnFlue.Judge,
        IntakeBesideExhaust.Judge,
        SnowOverExhaust.Judge,
        GasLockerInside.Judge,
        GasWithoutFixedOpenings.Judge,
    ];

    private static readonly ImmutableArray<Func<FindingContext, Finding?>> All =
    [
        .. DangerRules,
        ManyWetMornings.Judge,
        FlameGasesHigh.Judge,
        MouldGrows.Judge,
        WetSkin.Judge,
        DampMattress.Judge,
        DampCupboard.Judge,
        HotBed.Judge,
        HeaterShortInCold.Judge,
        NightAirShort.Judge,
        CarbonDioxideHigh.Judge,
        FanSealedIn.Judge,
        FanAgainstDraught.Judge,
        FanBehindShutLid.Judge,
        OnlyLeakage.Judge,
        OldAirAtTheBed.Judge,
        NothingOpenInRain.Judge,
        ReliefFlapCovered.Judge,
        GlassCondensing.Judge,
        MetalCondensing.Judge,
        LiningsCondensing.Judge,
        LooseCoverInside.Judge,
        LooseCoverOutside.Judge,
        AirDamp.Judge,
        AirDry.Judge,
        HeaterTooSmall.Judge,
        HeaterTooBig.Judge,
        HeaterCycles.Judge,
        HeaterAtAltitude.Judge,
        VapourReachesSkin.Judge,
        ThinInsulation.Judge,
        BatteryFrost.Judge,
        WaterFrost.Judge,
        LockedHeat.Judge,
        OneWayOut.Judge,
        GasLockerBesideOpening.Judge,
        RustSealed.Judge,
        CutsHiddenPart.Judge,
        DryerIsNoVentilation.Judge,
        AlarmsNeeded.Judge,
        BeforeCutting.Judge,
    ];

    /// <summary>The dangers of a design.</summary>
    public static IEnumerable<Finding> Dangers(FindingContext context) =>
        DangerRules.Select(rule => rule(context)).OfType<Finding>();

    /// <summary>The findings of a design, the gravest first.</summary>
    public static ImmutableArray<Finding> Judge(FindingContext context) =>
    [
        .. All.Select(rule => rule(context)).OfType<Finding>().OrderBy(finding => finding.Severity),
    ];
}
