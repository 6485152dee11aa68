using System.Collections.Immutable;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Unknowns;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Web.Workspace;

/// <summary>An answer to what helps most, with what it was asked for.</summary>
/// <param name="Revision">The edit it belongs to.</param>
/// <param name="Design">The design it belongs to.</param>
/// <param name="Basis">Prices and wishes it belongs to.</param>
/// <param name="Help">The answer.</param>
public sealed record HelpAnswer(long Revision, Design Design, CostBasis Basis, WhatHelps Help)
{
    /// <summary>True when it belongs to other inputs, prices or wishes.</summary>
    public bool IsOld(long revision, CostBasis basis) => Revision != revision || Basis != basis;
}

/// <summary>A part sealed and breathing, with the edit it was asked for.</summary>
/// <param name="Revision">The edit it belongs to.</param>
/// <param name="Part">The part.</param>
/// <param name="Trials">The answer.</param>
public sealed record LiningAnswer(long Revision, LinedPart Part, ImmutableArray<LiningTrial> Trials);

/// <summary>How sure the results are and what is worth asking, with the edit it belongs to.</summary>
/// <param name="Revision">The edit it belongs to.</param>
/// <param name="Design">The design it belongs to.</param>
/// <param name="Report">The answer.</param>
public sealed record AskAnswer(long Revision, Design Design, HowSureReport Report);

/// <summary>What is worked out for an option only when somebody asks for it; the answers stay while its page is open.</summary>
public sealed class Searches : IDisposable
{
    /// <param name="queue">Where they run.</param>
    /// <param name="circuit">Whose turn in the queue they take.</param>
    /// <param name="log">Gets what the consultant is told only in plain words.</param>
    /// <param name="changed">Called after each change, on any thread.</param>
    public Searches(ComputeQueue queue, object circuit, ILogger log, Action changed)
    {
        Help = new(queue, circuit, log, changed);
        Linings = new(queue, circuit, log, changed);
        Ask = new(queue, circuit, log, changed);
    }

    /// <summary>What single change helps most.</summary>
    public AskedRunner<HelpAnswer> Help { get; }

    /// <summary>Sealed against breathing.</summary>
    public AskedRunner<LiningAnswer> Linings { get; }

    /// <summary>How sure, and what is worth asking next.</summary>
    public AskedRunner<AskAnswer> Ask { get; }

    public void Dispose()
    {
        Ask.Dispose();
        Help.Dispose();
        Linings.Dispose();
    }
}
