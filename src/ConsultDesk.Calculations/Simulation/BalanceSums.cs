namespace ConsultDesk.Calculations.Simulation;

/// <summary>Sums of the water and the heat balance over the steps since they were last cleared.</summary>
internal sealed class BalanceSums
{
    private double _storedKg;
    private double _storedJ;

    /// <summary>Water given off inside: people, cooker, heater, showers, clothes.</summary>
    public double WaterKg { get; set; }

    /// <summary>Water outdoor air brought.</summary>
    public double BroughtKg { get; set; }

    /// <summary>Water leaving air carried.</summary>
    public double CarriedKg { get; set; }

    /// <summary>Water run off or wiped.</summary>
    public double RanOffKg { get; set; }

    /// <summary>Water dryers took out of the air.</summary>
    public double DriedKg { get; set; }

    /// <summary>Heat given off inside, heater included, vapour not.</summary>
    public double GivenJ { get; set; }

    /// <summary>Heat of the heater.</summary>
    public double HeaterJ { get; set; }

    /// <summary>Heat of the sun.</summary>
    public double SunJ { get; set; }

    /// <summary>Heat of condensation and sorption, evaporation taken off.</summary>
    public double LatentJ { get; set; }

    /// <summary>Heat lost through the envelope and with air, less what outdoor air brought.</summary>
    public double LossJ { get; set; }

    /// <summary>Starts anew from what is stored now.</summary>
    public void Clear(double storedKg, double storedJ)
    {
        _storedKg = storedKg;
        _storedJ = storedJ;
        WaterKg = BroughtKg = CarriedKg = RanOffKg = DriedKg = 0;
        GivenJ = HeaterJ = SunJ = LatentJ = LossJ = 0;
    }

    /// <summary>Water in less water out less the change of what is stored.</summary>
    public double WaterUnaccountedKg(double storedKg) => WaterKg + BroughtKg - CarriedKg - RanOffKg - DriedKg - (storedKg - _storedKg);

    /// <summary>Heat in less heat out less the change of what is stored.</summary>
    public double HeatUnaccountedJ(double storedJ) => GivenJ + SunJ + LatentJ - LossJ - (storedJ - _storedJ);
}
