using ConsultDesk.Calculations.Lanes;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>
/// What a glass or metal face, or the room side of a lining, carries from step to step. A drift is by how much the number before it has changed in the
/// last step, what runs off, is wiped off or is shed above saturation left out.
/// </summary>
internal struct FaceState<TLane>
    where TLane : struct, ILane<TLane>
{
    public TLane SurfaceC;
    public TLane SurfaceDrift;
    public TLane FilmKgPerM2;
    public TLane FilmDrift;
    public TLane CondensedKgPerM2;
    public TLane RanOffKgPerM2;
    public TLane Wet;
}

/// <summary>What a lining and the skin behind it carry from step to step.</summary>
internal struct LiningState<TLane>
    where TLane : struct, ILane<TLane>
{
    public FaceState<TLane> Face;
    public TLane SkinC;
    public TLane SkinDrift;
    public TLane SkinKgPerM2;
    public TLane SkinKgDrift;
    public TLane SkinRanOffKgPerM2;
    public TLane SkinWet;
}

/// <summary>What the air, furniture and fabrics of a zone carry from step to step.</summary>
internal struct ZoneState<TLane>
    where TLane : struct, ILane<TLane>
{
    // Furnishings, which mist wets; their temperature is the air's.
    public FaceState<TLane> Furnishing;
    public TLane AirC;
    public TLane AirDrift;
    public TLane MassDrift;
    public TLane HumidityRatio;
    public TLane HumidityDrift;
    public TLane MassC;
    public TLane BufferKg;
    public TLane BufferDrift;
    public TLane LatentW;
    public TLane MistKgPerS;
    public TLane FurnishingLatentW;
    public TLane ShedLagKg;
    public TLane Misty;
}

/// <summary>What the van as a whole carries from step to step, and the sums of its balances.</summary>
internal struct WholeState<TLane>
    where TLane : struct, ILane<TLane>
{
    public TLane HeaterW;
    public TLane HeaterWaterLagKg;
    public TLane MattressKgPerM2;
    public TLane MattressDrift;
    public TLane MattressC;
    public TLane WaterInStepKg;
    public TLane BroughtInStepKg;
    public TLane CarriedInStepKg;
    public TLane DriedInStepKg;
    public TLane GivenInStepJ;
    public TLane HeaterInStepJ;
    public TLane SunInStepJ;
    public TLane LatentInStepJ;
    public TLane LossInStepJ;
    public TLane WaterKg;
    public TLane BroughtKg;
    public TLane CarriedKg;
    public TLane RanOffKg;
    public TLane DriedKg;
    public TLane GivenJ;
    public TLane HeaterJ;
    public TLane SunJ;
    public TLane LatentJ;
    public TLane LossJ;
    public TLane StoredKg;
    public TLane StoredJ;
}

/// <summary>A dryer, with what it takes in the step.</summary>
internal struct DryerState<TLane>
    where TLane : struct, ILane<TLane>
{
    public TLane Drying;
    public TLane KgPerSPa;
    public TLane LowestPa;
    public TLane KgPerS;
}

/// <summary>
/// The lines of a film within a step: vapour that condenses or evaporates freely, <c>B (p - psat)</c>, and what leaves nothing behind, <c>Dry</c>.
/// </summary>
internal struct FilmWork<TLane>
    where TLane : struct, ILane<TLane>
{
    public TLane Beta;
    public TLane B;
    public TLane Psat;
    public TLane Latent;
    public TLane Dry;
    public TLane Flux;
}

/// <summary>A face within a step. Below <see cref="SurelyPa"/> no vapour condenses on it while it is at least as warm as <see cref="SurelyC"/>.</summary>
internal struct FaceWork<TLane>
    where TLane : struct, ILane<TLane>
{
    public FilmWork<TLane> Film;
    public TLane Drive;
    public TLane DryC;
    public TLane SurelyC;
    public TLane SurelyPa;
}

/// <summary>A lining and its skin within a step.</summary>
internal struct LiningWork<TLane>
    where TLane : struct, ILane<TLane>
{
    public FaceWork<TLane> Face;
    public TLane SkinDrive;
    public TLane SkinPsat;
    public TLane SkinLatent;
    public TLane SkinWarming;
    public TLane HeldB;
    public TLane HeldPsat;
    public TLane WetB;
    public TLane SkinFlux;
}

/// <summary>A zone within a step: air flows, sources, and the lines of mist and fabrics.</summary>
internal struct ZoneWork<TLane>
    where TLane : struct, ILane<TLane>
{
    public FilmWork<TLane> Furnishing;
    public TLane FurnishingMayWet;
    public TLane FurnishingGivenW;
    public TLane VolumeM3;
    public TLane AirKg;
    public TLane FromOutside;
    public TLane Inflow;
    public TLane ToOutside;
    public TLane ZoneInverse;
    public TLane HeaterResponse;
    public TLane PerHeaterResponse;
    public TLane OutdoorWPerK;
    public TLane SensibleW;
    public TLane WaterKgPerS;
    public TLane CarbonDioxideMolPerS;
    public TLane OxygenMolPerS;
    public TLane CarbonDioxide;
    public TLane OxygenUsed;
    public TLane MattressKgPerS;
    public TLane RightW;
    public TLane GuessC;
    public TLane StartC;
    public TLane StartPressure;
    public TLane VapourA;
    public TLane VapourB;
    public TLane MistGivenKgPerS;
    public TLane MistWarming;
    public TLane MistPsat;
    public TLane MistB;
    public TLane BufferB;
    public TLane BufferStart;
    public TLane BufferKgPerS;
    public TLane WaterDiagonal;
    public TLane WaterRight;
    public TLane Pressure;
    public TLane SurelyPa;
}
