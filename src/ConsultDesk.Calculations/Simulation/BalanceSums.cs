namespace ConsultDesk.Calculations.Simulation;

/// <summary>Sums of the water and the heat balance over the steps since they were last cleared.</summary>
internal sealed record BalanceSums
{
    /// <summary>Water given off inside: people, cooker, heater, showers, clothes.</summary>
    public required double WaterKg { get; init; }

    /// <summary>Water outdoor air brought.</summary>
    public required double BroughtKg { get; init; }

    /// <summary>Water leaving air carried.</summary>
    public required double CarriedKg { get; init; }

    /// <summary>Water run off or wiped.</summary>
    public required double RanOffKg { get; init; }

    /// <summary>Water dryers took out of the air.</summary>
    public required double DriedKg { get; init; }

    /// <summary>Heat given off inside, heater included, vapour not.</summary>
    public required double GivenJ { get; init; }

    /// <summary>Heat of the heater.</summary>
    public required double HeaterJ { get; init; }

    /// <summary>Heat of the sun.</summary>
    public required double SunJ { get; init; }

    /// <summary>Heat of condensation and sorption, evaporation taken off.</summary>
    public required double LatentJ { get; init; }

    /// <summary>Heat lost through the envelope and with air, less what outdoor air brought.</summary>
    public required double LossJ { get; init; }

    /// <summary>Water that was stored when the sums were cleared.</summary>
    public required double StoredKg { get; init; }

    /// <summary>Heat that was stored then.</summary>
    public required double StoredJ { get; init; }

    /// <summary>Water in less water out less the change of what is stored.</summary>
    public double WaterUnaccountedKg(double storedKg) => WaterKg + BroughtKg - CarriedKg - RanOffKg - DriedKg - (storedKg - StoredKg);

    /// <summary>Heat in less heat out less the change of what is stored.</summary>
    public double HeatUnaccountedJ(double storedJ) => GivenJ + SunJ + LatentJ - LossJ - (storedJ - StoredJ);
}
