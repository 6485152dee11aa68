using ConsultDesk.Records;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Design;
using Microsoft.Extensions.DependencyInjection;

namespace ConsultDesk.Migrations.Postgres;

/// <summary>The context that <c>dotnet ef</c> reads the model from. It opens no connection.</summary>
internal sealed class DesignTime : IDesignTimeDbContextFactory<DeskContext>
{
    public DeskContext CreateDbContext(string[] args)
    {
        // Without the app's Identity options the model would have the old account tables, and no check here would tell.
        var app = new ServiceCollection().Configure<IdentityOptions>(DeskStore.Identity).BuildServiceProvider();
        var builder = new DbContextOptionsBuilder<DeskContext>();
        builder.UseApplicationServiceProvider(app);
        builder.UseDeskStore(StoreKind.Postgres, "Host=localhost;Database=design_time");
        return new DeskContext(builder.Options);
    }
}
