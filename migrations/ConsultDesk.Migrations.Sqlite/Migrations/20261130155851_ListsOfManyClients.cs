using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace ConsultDesk.Migrations.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class ListsOfManyClients : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Vans_FirmId",
                table: "Vans");

            migrationBuilder.DropIndex(
                name: "IX_Plans_FirmId",
                table: "Plans");

            migrationBuilder.DropIndex(
                name: "IX_Options_FirmId",
                table: "Options");

            migrationBuilder.CreateIndex(
                name: "IX_Vans_FirmId_ClientId",
                table: "Vans",
                columns: new[] { "FirmId", "ClientId" });

            migrationBuilder.CreateIndex(
                name: "IX_Plans_FirmId_PublishedAt",
                table: "Plans",
                columns: new[] { "FirmId", "PublishedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_Plans_FirmId_VanId_PublishedAt",
                table: "Plans",
                columns: new[] { "FirmId", "VanId", "PublishedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_Options_FirmId_UpdatedAt",
                table: "Options",
                columns: new[] { "FirmId", "UpdatedAt" });

            migrationBuilder.CreateIndex(
                name: "IX_Options_FirmId_VanId_UpdatedAt",
                table: "Options",
                columns: new[] { "FirmId", "VanId", "UpdatedAt" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "IX_Vans_FirmId_ClientId",
                table: "Vans");

            migrationBuilder.DropIndex(
                name: "IX_Plans_FirmId_PublishedAt",
                table: "Plans");

            migrationBuilder.DropIndex(
                name: "IX_Plans_FirmId_VanId_PublishedAt",
                table: "Plans");

            migrationBuilder.DropIndex(
                name: "IX_Options_FirmId_UpdatedAt",
                table: "Options");

            migrationBuilder.DropIndex(
                name: "IX_Options_FirmId_VanId_UpdatedAt",
                table: "Options");

            migrationBuilder.CreateIndex(
                name: "IX_Vans_FirmId",
                table: "Vans",
                column: "FirmId");

            migrationBuilder.CreateIndex(
                name: "IX_Plans_FirmId",
                table: "Plans",
                column: "FirmId");

            migrationBuilder.CreateIndex(
                name: "IX_Options_FirmId",
                table: "Options",
                column: "FirmId");
        }
    }
}
